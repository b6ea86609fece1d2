#pragma once
/// Taking a handover file in: read and verify it whole, say what it would bring, then apply it in one
/// transaction. Until the person says yes no table is touched; any file may come in any order and
/// any number of times.

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "book/book.h"
#include "handover/file_reader.h"
#include "host/photo_store.h"

namespace steep {

/// One thing that a person would have to settle once the file is in.
struct PlanDiffers {
  enum class What {
    Fact,
    Crossed,  ///< Struck on one side, edited on the other.
    GivenUp,  ///< Struck as the same work as an entry that would not stand either (book/given_up.h).
    Late,     ///< A child of this record, of kind `group`, would stand although it is struck (book/late.h).
  };
  What what = What::Fact;
  Id record;
  std::string kind;
  std::string group;  ///< The fact that would differ.
  bool operator==(const PlanDiffers&) const = default;
};
/// Comparing costs memory for each fresh line of a record that is here.
inline constexpr std::size_t kMostCompared = 5'000;
/// Finding out what builds on what waits does too; it is done only where something would wait.
inline constexpr std::int64_t kMostTraced = 100'000;

/// What a file would bring, as data for the preview.
struct TakePlan {
  FileHeader header;
  bool book_file = false;                       ///< A Steepbook SQLite book instead of a handover file.
  std::int64_t changes = 0;                     ///< Lines in the file.
  std::int64_t fresh = 0;                       ///< Of these not here yet.
  std::int64_t waiting = 0;                     ///< Fresh ones that would wait (would_wait.h); of a file with more than
                                                ///< kMostTraced fresh ones those that saw what is in neither.
  std::int64_t records_new = 0;                 ///< Records that are not here at all.
  std::int64_t records_changed = 0;             ///< Records here that fresh lines change.
  std::map<std::string, std::int64_t> by_copy;  ///< Label of the copy → fresh lines.
  std::map<std::string, std::int64_t> by_kind;  ///< Kind → records with fresh lines.
  std::map<Id, std::int64_t> by_person;         ///< Fresh lines.
  std::map<Date, std::int64_t> by_day;          ///< Civil day of writing where it was written.
  std::vector<std::string> gaps;                ///< Labels of lanes whose earlier lines are missing here.
  std::int64_t struck = 0;                      ///< Fresh strikes of records that are here.
  std::int64_t still_aside = 0;                 ///< Lines known here from a file that is set aside: they stay aside.
  /// What would differ or be struck here and edited there, by comparing with the book in memory: at most
  /// kMostCompared fresh lines are compared, `compared_all` says whether these were all.
  std::vector<PlanDiffers> differs;
  bool compared_all = true;
  std::int64_t photos_coming =
      0;                         ///< Photos whose bytes are in the file, not here, and named by a record here or in it.
  std::int64_t photo_bytes = 0;  ///< Of these.
  std::int64_t photos_missing = 0;  ///< Named by fresh lines, their bytes neither here nor in the file.
  bool nothing_new() const { return fresh == 0 && photos_coming == 0; }
  bool large() const { return fresh > 1000; }  ///< A safety copy is due first.
};

/// May this file meet this book? Trouble::Conflict with 'take.other_book' {their name, our name} for
/// another business (join is offered), 'take.demo_real' for a demo meeting a real book.
Result<void> may_meet(const Book& book, const FileHeader& header);

/// One file on its way in. Works in steps of a few milliseconds, so that a phone stays alive.
class TakeJob {
 public:
  /// `file` is kept until the job ends. `join`: the name of the other book as the person typed it, for
  /// 'Same business, two starts: join'. `photos` outlives the job; without it photos in the file are passed over.
  TakeJob(Book& book, File file, std::string join = {}, PhotoStore* photos = nullptr);
  ~TakeJob();
  TakeJob(const TakeJob&) = delete;
  TakeJob& operator=(const TakeJob&) = delete;

  enum class Stage { Reading, Planned, Applying, Done, Failed };
  Stage stage() const { return stage_; }
  double share() const { return share_; }                            ///< 0…1 of the present stage.
  const TakePlan& plan() const { return plan_; }                     ///< From Planned on.
  const Book::TakeIn::Outcome& outcome() const { return outcome_; }  ///< When Done.
  const Problem& problem() const { return problem_; }                ///< When Failed.

  /// Works for about that long while Reading or Applying.
  void step(std::int64_t milliseconds);
  /// From Planned: begins to apply. Of a file with nothing new only what its giver has is noted. `person`: who
  /// answered, in whose name two starts are joined.
  void apply(const Id& person);
  /// Do two starts become one with it? From Planned on.
  bool joins() const { return joins_; }
  /// Ends the job; an unfinished application leaves the book as it was.
  void cancel();

 private:
  struct Reading;
  struct Applying;
  Result<void> read_some(Moment until);
  Result<void> note(const FileEvent& event);
  Result<void> note_line(const FileEvent& event);
  void note_act(const Change& change);
  void note_child(const Change& change);
  std::int64_t lines_unmet() const;
  Result<bool> begin_tracing();
  Result<bool> trace_next();
  Result<void> finish_plan();
  Result<void> plan_photos();
  Result<void> keep_photo(const FileEvent& event);
  Result<void> begin_apply(const Id& person);
  Result<void> pass_over_lines();
  Result<void> apply_some(Moment until);
  Result<void> finish_apply();
  void end(Result<void> result);
  bool here(const Hash& photo) const { return photos_ && photos_->has(photo); }

  Book& book_;
  PhotoStore* photos_;
  std::set<Hash> wanted_photos_;  ///< In the file, and named by a record here or in it.
  std::int64_t photos_kept_ = 0;
  File file_;
  std::string join_;
  Stage stage_ = Stage::Reading;
  double share_ = 0;
  TakePlan plan_;
  bool joins_ = false;
  std::vector<ChangeRef> tips_;
  std::vector<LaneHead> lanes_;  ///< That the file carries.
  Book::TakeIn::Outcome outcome_;
  Problem problem_;
  std::unique_ptr<Reading> reading_;
  std::unique_ptr<Applying> applying_;
};

/// 'Same business, two starts: join': one save of this book's own record; both ids are kept.
Result<Save> joining_save(const Book& book, const FileHeader& other);

/// The whole job at once, for tests: nothing is shown meanwhile.
Result<Book::TakeIn::Outcome> take_in(Book& book, File file, std::string join = {}, PhotoStore* photos = nullptr,
                                      const Id& person = {});

}  // namespace steep
