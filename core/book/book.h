#pragma once
/// The book: a journal of changes, folded into current-state tables in the same SQLite transaction.
///
/// The journal is the truth; `head`, the wide tables and `review` are derived and can be rebuilt from
/// it at any time with the same result. Queries and commands of the other files of this folder
/// stand on the functions here; outside core/book nobody speaks SQL.

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/id.h"
#include "base/moment.h"
#include "base/result.h"
#include "book/change.h"
#include "book/kinds.h"
#include "book/sql.h"
#include "host/platform.h"

namespace steep {

class Book;
class Checking;
struct Review;
struct Touched;

/// What a book needs of the world. `anchor`: ids of this copy's lanes, kept outside the database; when it
/// is missing or differs, this copy was restored or cloned and mints new lanes (never a tip in it).
struct BookNeeds {
  std::function<Stamp()> now;
  RandomSource random;
  std::function<std::string()> read_anchor;
  std::function<void(std::string_view)> write_anchor;
  /// Called after each committed write: asks the platform to bring it to lasting storage.
  std::function<void()> committed;
  /// Begins the checks of the trade over records just folded, as in take_checks.h; empty = none.
  std::function<std::unique_ptr<Checking>(const Book&, Touched)> checks;
  /// How long whoever asks waits for another program that writes to the book, until 'book.elsewhere' is said. A window
  /// stands still meanwhile.
  std::int64_t patience_ms = 3 * kSecond;
};
BookNeeds needs_of(Platform& platform);

/// One save of one record, not yet written.
struct Save {
  Id record;  ///< From new_record(), or an existing one.
  std::string kind;
  std::optional<Part> part;        ///< Empty = by the rules of the kind (PartRule) and of the record's parent.
  std::vector<FieldValue> fields;  ///< Only groups that change; of a group all its fields.
  std::vector<ChangeRef> seen;     ///< All heads the form showed when it was *opened*; empty for a new record.
  std::string why;                 ///< Reason of a correction, a settlement, a warning gone on with.
};

/// One version of a group that no ready change has replaced.
struct Head {
  ChangeRef ref;
  std::int64_t t = 0, c = 0, wall = 0;
  int zone_minutes = 0;
  Id person;
  std::string why;
  std::vector<FieldValue> fields;  ///< Of this group only, unknown ones included.
};

struct Group {
  std::string key;
  std::vector<Head> heads;  ///< Never empty; the first is the stand-in winner.
  bool differs = false;     ///< Heads with at least two distinct values.
  /// Of a list whose items were said one by one (gathers() of fold.h) and that has several heads: the items of all.
  std::vector<FieldValue> gathered;

  /// What tables and totals show.
  const std::vector<FieldValue>& stand_in() const { return gathered.empty() ? heads.front().fields : gathered; }
};

/// A record as folded.
struct Record {
  Id id;
  Part part;
  std::string kind;
  std::vector<Group> groups;  ///< By key.
  Stamp made;                 ///< Wall clock of its first change.
  Id made_by;
  Id made_on;                ///< Lane of its first change.
  std::string struck;        ///< Reason; empty = not struck.
  bool needs_newer = false;  ///< A ready change with "must" that this program doesn't know.

  /// The stand-in's value; nullptr when never written.
  const FieldValue* field(std::string_view key) const;
  bool differs() const;
  /// Refs of all heads, for Save::seen.
  std::vector<ChangeRef> heads() const;
};

/// One change as history shows it.
struct HistoryLine {
  Hash hash, prev;  ///< Its own, and that of the line before it in its chain.
  ChangeRef ref;
  Change change;
  bool ready = true, aside = false, clock_doubtful = false, mine = false;
  std::string copy;  ///< Label of the lane's copy.
};

struct Lane {
  std::int64_t row = 0;
  Id id;
  Part part;
  std::string label;  ///< Of the copy, for display only: 'Ana's phone'.
  Id copy;            ///< The house lane that wrote beside it, as far as known.
  bool mine = false;  ///< Written by this copy, still in use.
  bool ours = false;  ///< Ever written by this copy, also before it took new lanes.
  std::int64_t last_seq = 0;
  Hash tip{};
};

/// A finding of the checks, or something a person should look at; derived, rebuilt with the tables.
struct Review {
  Id record;
  std::string group;
  WordId why;
  std::vector<std::string> values;
  Moment since;
};

class Book {
 public:
  /// Opens the file, or lays out an empty book in a new one. Upgrades tables of an older program by
  /// rebuilding them from the journal. Trouble::Damaged, System, Unsupported (a newer program's book).
  static Result<Book> open(const BookPlace& place, BookNeeds needs);
  Book(Book&&) noexcept;
  Book& operator=(Book&&) noexcept;
  ~Book();

  // ---- What it is ----
  bool is_started() const;         ///< Its id is known: by its own record, or by the first file that was taken.
  bool has_house() const;          ///< Its own record is here; else only parts without the house came so far.
  Id id() const;                   ///< Of the book record; nil before it is started.
  std::vector<Id> joined() const;  ///< All ids this book answers to, its own first.
  std::string name() const;
  bool is_demo() const;
  /// This copy's own name ('Ana's phone'): local setting, written beside its lanes in handover files.
  std::string copy_label() const;
  Result<void> set_copy_label(std::string_view label);
  /// Current house lane = the copy's id; nil before the first write.
  Id copy() const;
  /// Moves on with every committed write, take and set-aside: views are recomputed then.
  std::uint64_t counter() const;
  Stamp now() const;
  Id new_record() const;

  // ---- Writing ----
  /// Writes all saves in one transaction, in order; those of one part become one act. Refused whole:
  /// unknown kind, value not fitting its type, missing required field of a new record, reference to
  /// nothing known here or in `saves`, blank strike reason, a demo/real mix, a take under way.
  Result<void> write(std::span<const Save> saves, const Id& person);
  Result<void> write(const Save& save, const Id& person) { return write(std::span(&save, 1), person); }
  /// Starts a book in an empty file: writes the book record.
  Result<void> start(std::string_view name, bool demo, const Id& person = {});
  /// What `start` saves, for whoever has more to write in the same breath.
  Save starting_save(std::string_view name, bool demo) const;

  // ---- Reading ----
  Result<std::optional<Record>> record(const Id& id) const;
  Result<std::vector<HistoryLine>> history(const Id& record) const;  ///< By cause first, time second.
  /// All records of a kind, struck ones too, by id. `part` narrows.
  Result<std::vector<Record>> records(std::string_view kind, std::optional<Part> part = {}) const;
  /// The kind a record was written with; empty = not on this copy.
  std::string kind_of(const Id& record) const;
  std::optional<Part> part_of(const Id& record) const;
  Result<std::vector<Review>> reviews() const;
  /// Changes that saw something not here, or whose act is not whole: in no value, but readable, and
  /// counted for waits. By lane and sequence.
  Result<std::vector<HistoryLine>> waiting() const;
  const Database& db() const;  ///< For the queries of core/book only.
  /// One state for all that is read while it lives, though a `take` in a terminal commits meanwhile. Whatever asks more than
  /// a few questions (a view, a report, a file to give, a plan) takes one: it is quicker too. Nothing can be written.
  Snapshot snapshot() const;
  /// What core/book read and may want again ('codes', 'places'): there until a record of one of these kinds is folded
  /// anew, this copy's lanes change, a file comes in or somebody else writes. Nothing is kept within a write.
  std::shared_ptr<const void> kept(std::string_view name) const;
  void keep(std::string_view name, std::span<const std::string_view> kinds, std::shared_ptr<const void> what) const;

  // ---- Half-filled forms ----
  struct Draft {
    std::string form;  ///< Screen and record: 'start-pass', 'bed:06c9…'.
    Id record;
    std::vector<ChangeRef> heads;               ///< Those of the opening: the later `seen`.
    std::map<std::string, std::string> fields;  ///< As typed.
    Moment at;
  };
  Result<void> keep_draft(const Draft& draft);
  Result<std::optional<Draft>> draft(std::string_view form) const;
  Result<void> drop_draft(std::string_view form);

  // ---- The journal, for handover ----
  std::vector<Lane> lanes() const;
  /// Lines of a lane from `from` on, in order of sequence (a fork gives both branches, by hash).
  struct Line {
    std::int64_t seq = 0;
    Hash prev{}, hash{};
    std::string body;
  };
  Result<void> each_line(const Id& lane, std::int64_t from, const std::function<bool(const Line&)>& then) const;
  /// Is this line of the lane here? Aside: it is, from a taken file that is set aside.
  enum class Held { No, Yes, Aside };
  Held holds(const Id& lane, std::int64_t seq, const Hash& hash) const;
  bool knows(const ChangeRef& ref) const;
  std::int64_t change_count() const;
  /// Equality code of the folded state: sum modulo 2^256, kept up incrementally.
  Hash digest() const;
  /// '7f3a 91c2 d04e': what two people read to each other.
  std::string digest_code() const;

  /// One file's lines being merged: one transaction, in steps, nothing seen until `finish`.
  class TakeIn;
  /// Where a file comes from: whose book, which copy gave it.
  struct Origin {
    Id book;           ///< An empty book becomes a copy of this one (id() answers it from then on) …
    std::string name;  ///< … of this name, until its own record is here.
    bool demo = false;
    Id copy;            ///< The giver's house lane.
    std::string label;  ///< Of the giver: 'Ana's phone'.
    std::string file_name;
    Hash file_hash{};
    std::vector<ChangeRef> tips;  ///< What the giver says that it has.
    bool acknowledges = false;    ///< Are the tips to be relied on? Not of a file given while 'Not saved'.
  };
  /// Trouble::Conflict while another is under way, or while a pass is open on this copy ('book.pass_open' with
  /// its code and its start): end_pass ends one that was forgotten, at any later time. Whether the two books
  /// may meet (same id, joined, demo) is the caller's to decide beforehand.
  Result<std::unique_ptr<TakeIn>> begin_take(const Origin& origin);

  /// Batches of taken files, newest first.
  struct Batch {
    std::int64_t row = 0;
    std::string file;
    Moment at;
    std::int64_t changes = 0;
    bool aside = false;
    std::string from;  ///< Label of the sender.
  };
  Result<std::vector<Batch>> batches() const;
  /// Trouble::Conflict while a pass is open, as for begin_take; "book.begins_here" for the file that brought this book's
  /// own record: without it everything else would hang on nothing.
  Result<void> set_aside(std::int64_t batch, bool aside);
  /// Records that began with this batch, in the order of writing, at most `most`; without those that hang on another.
  Result<std::vector<Id>> made_by_batch(std::int64_t batch, std::size_t most) const;
  /// How many taken files are set aside: the digest is then not that of everything this copy holds.
  int files_aside() const;

  /// What other copies are known to have: tips of the last file received from each, and the last given.
  struct Peer {
    Id copy;
    std::string label;
    Moment heard, given;
    std::vector<ChangeRef> tips;
  };
  Result<std::vector<Peer>> peers() const;
  Result<void> note_peer(const Peer& peer);
  /// Counts of this copy's own changes: not given, given but not confirmed, confirmed.
  struct HandedOver {
    std::int64_t not_given = 0, given = 0, confirmed = 0;
    Moment not_given_since, given_at, confirmed_at;
    std::string confirmed_by;
  };
  Result<HandedOver> handed_over() const;
  /// Remembers that a file with our lanes up to these tips is out (Given::tips): neither lanes of parts that it
  /// left out nor lines written since it was made. One given while the book was not saved acknowledges
  /// nothing, and this copy takes new lanes at its next start.
  /// `photos`: whose bytes were in it; `to`: the copy that it was made for alone.
  Result<void> note_given(std::span<const ChangeRef> tips, bool while_unsaved, std::span<const Hash> photos = {},
                          const std::optional<Id>& to = {});
  /// When the bytes of a photo last went out from here, to anybody or in files made for `to`; 0 = never.
  Result<Moment> photo_given(const Hash& photo, const std::optional<Id>& to = {}) const;
  /// 'This is a copy': the next write opens new lanes. Nothing that was written changes.
  Result<void> take_new_lanes();

  /// What befell this copy's identity and a person should be told, until they say that they have read it.
  enum class Befell {
    Restored,      ///< The database is not the one this device wrote last: a safety copy, or another device's.
    Continued,     ///< Another device went on writing in our lanes: this copy, or that one, was cloned.
    GivenUnsaved,  ///< A file was given while nothing could be saved.
  };
  struct Notice {
    Befell befell = Befell::Restored;
    Moment at;
  };
  std::optional<Notice> notice() const;
  Result<void> notice_read();

  // ---- Care ----
  /// Drops head, wide tables and review, and folds the whole journal anew.
  Result<void> rebuild();
  struct Health {
    std::int64_t changes = 0, waiting = 0;
    std::vector<std::string> broken_chains;  ///< 'lane at sequence'
    std::string sqlite;                      ///< 'ok' or what integrity_check says
    bool tables_match = true;                ///< A rebuild in memory gives the same digest.
  };
  Result<Health> check() const;
  /// Another connection (a `take` in a terminal) changed the file: views must be recomputed.
  bool changed_elsewhere();

 private:
  struct Inside;
  explicit Book(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
  friend class TakeIn;
};

/// The steps of taking lines in. Destroyed without finish() = nothing happened.
class Book::TakeIn {
 public:
  ~TakeIn();
  /// One save of this copy's own, before the first line: it stands or falls with what comes in ('same business, two
  /// starts: join'), in the name of `person`.
  Result<void> save(const Save& save, const Id& person);
  /// Announces the lane that the next lines belong to. `copy` = the sender copy's house lane.
  /// Trouble::Damaged when the lane is known with another part.
  Result<void> lane(const Id& lane, const Part& part, std::string_view label, const Id& copy);
  /// One line with its predecessor's and own hash, already verified against each other.
  Result<void> line(std::int64_t seq, const Hash& prev, const Hash& hash, const Change& change, std::string_view body);
  /// So many lines that are all here, in place of giving each; `aside`: of these, set aside.
  void known_lines(std::int64_t lines, std::int64_t aside);
  /// After the last line: folds and checks a few milliseconds' worth. `share` = 0…1 done.
  struct Step {
    bool done = false;
    double share = 0;
  };
  Result<Step> step(std::int64_t milliseconds);
  struct Outcome {
    std::int64_t lines = 0, added = 0, known = 0, waiting = 0;
    std::int64_t still_aside = 0;  ///< Known lines that stay out of every value, their batch being set aside.
    std::int64_t records_new = 0, records_changed = 0, struck = 0, differing = 0, findings = 0;
    std::int64_t photos = 0;  ///< Whose bytes came; counted by handover.
    std::vector<Id> touched;  ///< Records, sorted.
    bool twin = false;        ///< The file showed a lane of ours beyond or beside what we wrote: new lanes were minted.
    std::vector<std::string> broken_chains;
  };
  /// Commits. Only after step() said done.
  Result<Outcome> finish();

 private:
  friend class Book;
  struct Work;
  explicit TakeIn(std::unique_ptr<Work> work);
  std::unique_ptr<Work> work_;
};

}  // namespace steep
