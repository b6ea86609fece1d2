#pragma once
/// What the running program holds. Not for others than app/.

#include <deque>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "app/app.h"
#include "app/photo_pictures.h"
#include "book/bed_states.h"
#include "book/book.h"
#include "demo/demo.h"
#include "handover/take.h"
#include "look/theme.h"
#include "screens/page.h"
#include "screens/screens.h"
#include "screens/standing.h"

namespace steep {

/// Something that was asked for and is held up by cautions until a person gives a reason.
struct HeldUp {
  Do ask;
  PagePlace from;
  std::vector<std::string> sentences;
  std::string reason;
  std::optional<Problem> problem;
};

/// What was typed into the page's form, as it was last kept in the book.
struct KeptDraft {
  DraftFields fields;
  bool loaded = false;
  Moment kept_at;  ///< 0 = nothing kept.
};

/// Under which name a page's draft is kept.
std::string form_of(const PagePlace& place);

struct App::Inside {
  Inside(Platform& p, AppOptions o) : platform(p), options(o), pictures(p) {}

  Platform& platform;
  AppOptions options;
  ItemTree tree;
  Settings settings;
  std::optional<Book> book;
  std::optional<Problem> trouble;  ///< Why there is no book.
  BedStatesCache beds;

  // Where the person is: the way back, the tab's root first.
  std::vector<PagePlace> way;
  std::map<PagePlace, std::unique_ptr<Page>> kept;
  std::map<PagePlace, KeptDraft> drafts;
  std::optional<PagePlace> draft_waits;  ///< Typed, not yet kept.
  double draft_due_s = 0;

  // Time.
  Moment last_now;
  double seconds = 0;  ///< For look: never goes back.

  // What views rest on; `key` moves when any of it does.
  struct Rest {
    std::uint64_t counter = 0;
    std::int64_t minute = -1;
    Settings settings;
    SaveState save = SaveState::Saved;
    Moment saved_at;
    int photos_left = 0;
    bool newer = false;
    int take_stage = -1;
    double take_share = 0;
    std::size_t files_waiting = 0;
    bool operator==(const Rest&) const = default;
  };
  Rest rest;
  std::uint64_t key = 0;
  Farm farm;  ///< The one shown; of no id when the book has none.
  std::optional<StandingCaution> standing;
  int not_confirmed = 0;

  // Work in hand.
  std::unique_ptr<TakeJob> take;
  std::unique_ptr<TakeJob> quiet_take;  ///< A file of the watched folder: taken in beside whatever is on screen.
  std::string quiet_file;               ///< Its name.
  std::optional<std::string> come_again;
  std::set<std::string> told_refused;  ///< Of files that come again.
  /// A safety copy that a large file waits for; whoever asks again waits for the new one alone.
  struct Aside {
    int asked = 0;
    bool waits = false;
  };
  Aside take_aside, quiet_aside;
  File take_file;                    ///< Until it is applied: read anew when two starts are joined.
  std::optional<LockedFile> locked;  ///< Waits for its passphrase: chosen, or come by the watched folder …
  bool locked_came = false;          ///< … the latter.
  std::deque<File> dropped_files;    ///< Several at once: each is looked at in its turn.
  /// A deed of about a second that cannot be cut into steps: done once a frame has said so.
  Function<void()> slow_deed;
  bool slow_said = false;
  bool worked = false;  ///< Since the last frame: it need not.
  std::unique_ptr<DemoMaker> demo;
  double demo_share = 0;
  std::optional<HeldUp> held_up;
  std::uint32_t refused_on = 0;  ///< Sheet on which it was asked; 0 = on the page.
  std::string toast_text;
  double toast_until_s = 0;
  bool awake = false;
  bool asked_lasting = false;

  PhotoPictures pictures;
  std::optional<PickedPhoto> picked;

  // Frames.
  bool drew = false;
  double look_next = 0;  ///< Seconds until the frame that look wants; infinity = none.
  std::optional<Moment> page_until;
  bool again = true;  ///< A frame is wanted at once.

  // app.cpp
  void open_book();
  void name_person();
  void frame();
  void tell_time();
  void rest_moved();
  Look look_now() const;
  Surroundings surroundings(const PagePlace& place);
  Words chosen_words() const { return Words(settings.language); }
  UnitsShown units(const Farm& of) const;
  Farm farm_about(const PagePlace& place) const;

  // way.cpp
  /// A copy: what it is handed to may change the way.
  PagePlace here() const { return way.back(); }
  Page* page(const PagePlace& place);
  void go(const Go& go);
  bool back();
  void forget(const PagePlace& place);
  void fill_form(const DraftFields& fill);
  PagePlace home() const;
  /// What waits, if anything does.
  void keep_draft();
  void load_draft(const PagePlace& place, Page& page);
  void watch_draft(const PagePlace& place, Page& page);

  // asks.cpp
  void answer(const Ask& ask, const PagePlace& from);
  void on(const Go& ask, const PagePlace& from);
  void on(const Back& ask, const PagePlace& from);
  void on(const Do& ask, const PagePlace& from);
  void on(const Set& ask, const PagePlace& from);
  void on(const TakeFile& ask, const PagePlace& from);
  void on(const TakeApply& ask, const PagePlace& from);
  void on(const TakeUnlock& ask, const PagePlace& from);
  void on(const TakeCancel& ask, const PagePlace& from);
  void on(const GiveFile& ask, const PagePlace& from);
  void on(const MakePaper& ask, const PagePlace& from);
  void on(const CopyText& ask, const PagePlace& from);
  void on(const TryAgain& ask, const PagePlace& from);
  void on(const UseHere& ask, const PagePlace& from);
  void on(const UseNewer& ask, const PagePlace& from);
  void on(const MakeDemo& ask, const PagePlace& from);
  void on(const LeaveDemo& ask, const PagePlace& from);
  void hold_up(const Do& ask, const PagePlace& from, std::vector<std::string> sentences);
  void run(const Do& ask, const PagePlace& from, const std::string& reason);
  void refuse_it(const PagePlace& from, const Problem& problem);
  void give(GiveRequest request, bool share, const PagePlace& from);
  void toast(std::string text);
  void set_problem(const PagePlace& from, Problem problem);
  Page* kept_page(const PagePlace& place);

  // photos.cpp
  void on(const PickPhoto& ask, const PagePlace& from);
  void on(const AddPhoto& ask, const PagePlace& from);
  void on(const SavePhoto& ask, const PagePlace& from);
  bool photo_picked(const Id& of, File file, const PagePlace& from);
  bool drop_photo(File& file);

  // jobs.cpp
  void slowly(Function<void()> deed);
  void unlock_file(const Passphrase& passphrase, const PagePlace& from);
  void begin_take(File file);
  void take_dropped();
  bool take_quietly(File file);
  void work_quietly(std::int64_t milliseconds);
  void take_on_screen();
  void apply_quietly();
  void refuse_quietly(const TakePlan& plan, const Problem& problem);
  void apply_take();
  void end_take();
  bool is_taking() const;
  /// `then` comes once a safety copy was made, or could not be; not when the aside stopped waiting before.
  void when_set_aside(Aside& aside, Function<void(const Result<void>&)> then);
  std::string giver_of(const TakePlan& plan) const;
  void work(std::int64_t milliseconds);
  void begin_demo();
  void end_demo();
  void let_go_of_book();
  bool busy() const;
  bool has_job() const;

  // around.cpp: what the app itself draws
  Furniture furniture();
  std::string saved_detail, draft_detail;
  std::vector<std::string> tab_texts, tab_spoken;
  std::vector<Tab> tab_list;
  TapeBand standing_band;
  bool reopen = false;  ///< The book is opened anew once the frame is over.
  void draw_page(const PagePlace& place);
  void draw_held_up();
  void draw_demo_progress();
  void draw_trouble(const Problem& problem, bool can_go_back);
  void draw_ways_out(Pen& pen);
  void draw_elsewhere();
};

}  // namespace steep
