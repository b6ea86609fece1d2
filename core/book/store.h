#pragma once
/// What stands behind a Book: the connection, the row about the book itself, and ids that are asked for
/// again and again. For the files of core/book that make up the journal and its fold only.

#include <deque>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "book/book.h"
#include "book/fold.h"
#include "book/said.h"

namespace steep {

struct LaneRow {
  std::int64_t row = 0;
  Id id, copy;
  Part part;
  std::int64_t part_row = 0;
  std::string label;
  bool mine = false;  ///< In use by this copy.
  bool ours = false;  ///< Ever written by this copy.
  std::int64_t last_seq = 0;
  Hash tip{};
  std::int64_t told = 0;                  ///< Last sequence whose tip one of our lines has carried.
  std::int64_t given = 0, confirmed = 0;  ///< Of ours: last sequence given, and known to be elsewhere.
};

struct Store {
  Store(Database database, BookNeeds world) : db(std::move(database)), needs(std::move(world)) {}

  Database db;
  BookNeeds needs;
  Book* book = nullptr;  ///< Whom `checks` gets.
  std::uint64_t counter = 1;
  struct Kept {
    std::string_view name;
    std::span<const std::string_view> kinds;
    std::shared_ptr<const void> what;
  };
  std::vector<Kept> kept;  ///< See Book::kept.
  bool taking = false;
  bool spoiled = false;  ///< A file was given while 'Not saved': no valid anchor any more in this run.
  std::int64_t data_version = 0;

  // The row of table `book`.
  Id id;
  bool demo = false;
  std::string name;
  std::int64_t clock = 0;  ///< Highest t written or taken.
  Hash digest{};
  std::vector<Id> joined;  ///< Own id first, as soon as it is known.

  std::map<Id, LaneRow> lanes;
  std::unordered_map<std::int64_t, Id> lane_ids;
  std::map<std::string, std::int64_t, std::less<>> group_rows;
  mutable std::unordered_map<std::int64_t, std::string> group_keys;
  std::map<Part, std::int64_t> part_rows;
  mutable std::unordered_map<std::int64_t, Part> parts;
  std::set<std::int64_t> aside;  ///< Batches set aside.

  /// Reads all of the above anew.
  Result<void> load();
  Result<void> save_row();
  Result<std::int64_t> part_row(const Part& part);
  Result<std::int64_t> group_row(std::string_view key);
  /// Row of the record in this part; a new one when it is not known.
  Result<std::int64_t> record_row(std::int64_t part, const Id& record);
  Result<void> save_lane(const LaneRow& lane);
  /// Of what rests on records of this kind.
  void let_go(std::string_view kind);
  /// Also of one that another program added since load(): read now. Empty when there is none.
  const Part& part_of(std::int64_t row) const;
  const std::string& group_key(std::int64_t row) const;
  /// nullptr when the lane is not known.
  LaneRow* lane_of_row(std::int64_t row);
};

struct Book::Inside : Store {
  using Store::Store;
};

/// A file must not change what somebody reads off the screen while he sprays. Trouble::Conflict `said` with the pass and
/// its start.
Result<void> no_pass_open(const Book& book, WordId said);

/// One write: BEGIN IMMEDIATE … COMMIT with everything that hangs on it, also the anchor of lanes that were minted.
/// Without commit() the store is as before.
class WriteScope {
 public:
  /// Trouble::Conflict while a take is under way or somebody else is writing.
  static Result<WriteScope> begin(Store& store);
  WriteScope(WriteScope&& other) noexcept
      : store_(other.store_), transaction_(std::move(other.transaction_)), lanes_before_(other.lanes_before_) {
    other.transaction_.reset();
  }
  WriteScope& operator=(WriteScope&&) = delete;
  ~WriteScope();
  Result<void> commit();

 private:
  WriteScope(Store& store, Transaction transaction)
      : store_(&store), transaction_(std::move(transaction)), lanes_before_(store.lanes.size()) {}
  Store* store_;
  std::optional<Transaction> transaction_;
  std::size_t lanes_before_;
  bool anchored_ = false;  ///< The anchor of lanes that are not committed yet was written.
};

/// Saves of this copy as lines of its lanes, folded and checked. Inside a WriteScope; nothing is committed.
Result<void> write_saves(Store& store, std::span<const Save> saves, const Id& person);

inline constexpr std::int64_t kFormat = 1;
/// Lays out an empty book, or checks that this is one of ours. True when head, wide tables and review have
/// to be folded anew because this program has other kinds or another fold than the last one.
Result<bool> lay_out(const Database& db, bool write_ahead);
/// Head, wide tables, review: dropped and made anew, empty; indexes of the journal as they are to be.
Result<void> lay_out_derived(const Database& db);

// ---- Lanes (lanes.cpp) ----
/// This copy's lane of the part; minted on demand, beside it one of house base, the copy's id.
Result<LaneRow*> own_lane(Store& store, const Part& part);
/// None of our lanes is written to any more.
Result<void> retire_lanes(Store& store);
/// Do the lanes in use match what was kept outside the database? nullopt = they do; else why new ones are due.
std::optional<Book::Befell> anchor_differs(const Store& store);
/// Kept until a person has read it.
Result<void> note_befell(Store& store, Book::Befell befell);
void write_anchor(const Store& store);

// ---- Other copies (peers.cpp) ----
/// What the copy is known to have; within the transaction of the caller.
Result<void> keep_peer(Store& store, const Book::Peer& peer);

// ---- Journal (journal.cpp) ----
struct JournalRow {
  std::int64_t lane = 0, record = 0, seq = 0, batch = 0;  ///< batch 0 = written here.
  bool ready = true;
  Hash prev{}, hash{};
};
Result<void> insert_change(Store& store, const JournalRow& row, const Change& change, std::string_view body);
/// Row of this line of the lane; 0 = it is not here.
Result<std::int64_t> line_row(const Store& store, std::int64_t lane, std::int64_t seq, const Hash& hash);
/// Did the row come in a file that is set aside?
Result<bool> is_aside(const Store& store, std::int64_t row);
/// What is known of a change that somebody saw.
enum class Presence { Absent, Waiting, Ready };
Result<Presence> presence(Store& store, const ChangeRef& ref);

/// Lines whose predecessor is not the one that stands before them in their lane. A predecessor that is
/// merely missing is a gap, not a break.
struct BrokenChain {
  Id lane, record;
  std::int64_t seq = 0, wall = 0;
  std::string copy;  ///< Label.
};
Result<std::vector<BrokenChain>> broken_chains(const Store& store);

// ---- Fold into tables (fold_store.cpp) ----
/// A record as it came out of the fold, as far as what follows has to know it.
struct FoldedRecord {
  std::int64_t row = 0;
  Id uid;
  Id parent;              ///< Of a child that stands, and of which nobody said that it stands beside a struck one.
  std::int64_t made = 0;  ///< Wall clock, ms.
  bool reviewed = false;  ///< Something about it stood in the review list before.
};
struct FoldSum {
  std::int64_t created = 0, changed = 0, struck = 0, differing = 0;
  std::vector<FoldedRecord> records;
  std::vector<std::pair<std::int64_t, Id>> struck_changed;  ///< Of these whose strike came or went.
  bool book_record = false;
  std::vector<Id> waiting;      ///< Records with lines that came and wait: they bring waits already.
  std::deque<Said> said;        ///< Of records on which checks of others rest, by all their lines.
  std::vector<FoldLine> lines;  ///< Room for those of one record, used for the next.
};
/// `is_new`: its row was made in this transaction, and nothing was derived from it yet.
Result<void> fold_record(Store& store, std::int64_t record, FoldSum& sum, bool is_new = false);
/// Drops what is derived and folds the whole journal.
Result<void> fold_all(Store& store);

/// Lists of short texts in one column, joined by U+001F.
std::string join_items(const std::vector<std::string>& items);
std::vector<std::string> split_items(std::string_view joined);
/// References with spaces between.
std::vector<ChangeRef> parse_refs(std::string_view text);

}  // namespace steep
