#pragma once
/// A screen in the program: a *page*. Each is two functions and a line in the list (screens.h).
///
///   Result<TodayView> today_view(const Surroundings&, const TodayInput&);           reads, computes, words
///   std::optional<Ask> draw_today(const TodayView&, TodayInput&, const Furniture&);  Dear ImGui only
///   {"today", page_of<today_view, draw_today>},
///
/// The view is made again only when the book's counter, the minute, a setting or the input moved, or
/// its `good_until` has passed. Drawing changes nothing but the input and answers what the person asked
/// for; app/ does it, and puts a refusal into the input's `problem`.
///
/// Input: `struct TodayInput : PageInput`, compared with ==. View: compared with == in tests. Optional:
///   Moment good_until;     in the view: it changes by itself then
///   bool keep_awake;       in the view: the screen stays on
///   DraftFields draft_fields(const XInput&); void from_draft(XInput&, const DraftFields&);
///                          beside the input: what is typed survives a kill

#include <compare>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "base/function.h"
#include "book/bed_states.h"
#include "book/book.h"
#include "book/caution.h"
#include "book/spelled.h"
#include "handover/give.h"
#include "handover/take.h"
#include "host/platform.h"
#include "look/picture.h"
#include "look/screen.h"
#include "screens/settings.h"

namespace steep {

/// Where a person can be: a page and, where it is about one record, which.
struct PagePlace {
  std::string page = {};
  Id record = {};
  Id other = {};          ///< A second one: the bed in hand of a refill, the other dose of a question.
  std::string word = {};  ///< What the page is about, where that is no record: a calculation's name.
  bool operator==(const PagePlace&) const = default;
  std::strong_ordering operator<=>(const PagePlace& to) const {  // std::string of libc++ 14 has none
    if (const int by_name = page.compare(to.page); by_name != 0) return by_name <=> 0;
    if (const auto by_record = record <=> to.record; by_record != 0) return by_record;
    if (const auto by_other = other <=> to.other; by_other != 0) return by_other;
    return word.compare(to.word) <=> 0;
  }
};

/// A photo that was chosen and is not written yet.
struct PickedPhoto {
  File file;
  Hash hash{};
};

/// A locked file on its way in: it waits for its passphrase.
struct LockedFile {
  File file;
  bool opening = false;  ///< A passphrase was typed and is being tried.
};

/// All that a view reads.
struct Surroundings {
  const Book& book;
  BedStatesCache& beds;  ///< Every bed of the farm, read once a change.
  Platform& platform;    ///< For `can`, `storage`, `program`; a view asks nothing else of it.
  const Settings& settings;
  Words words;
  UnitsShown units;
  Moment now;
  Id farm;    ///< The farm shown; nil = none in the book.
  Zone zone;  ///< Of that farm: its clock is the one shown.
  Date today;
  Id person;         ///< Who writes; nil = nobody named.
  Id record, other;  ///< Of the page's place.
  std::string word;
  const TakeJob* take = nullptr;  ///< A file on its way in.
  const PickedPhoto* picked = nullptr;
  const LockedFile* locked = nullptr;
  std::size_t files_waiting = 0;  ///< Dropped together with the one on its way in.

  SpellAs spell_as() const { return {units, zone, today}; }
  std::string clock(Moment at) const;  ///< '6:46 pm'
  std::string when(Moment at) const;   ///< 'Fri 6:46 pm'; today the clock alone
  std::string sentence(const Problem& problem) const { return spell(problem, words, spell_as()); }
  std::string sentence(const Caution& caution) const { return spell(caution.word, caution.values, words, spell_as()); }
};

/// What stands in a form, by the keys of its page.
using DraftFields = std::map<std::string, std::string>;

// ---- What a person asks for ----
/// To another page. Roots of the tabs start a new way back; `instead` leaves the page asked from.
struct Go {
  PagePlace to;
  bool instead = false;
  DraftFields fill = {};  ///< Put into the form there, over what it holds: results on their way into a record.
};
struct Back {};
/// Something that writes. Cautions are shown by app/, which repeats it with the person's reason.
struct Do;
/// Settings to keep on this device.
struct Set {
  std::vector<std::pair<std::string_view, std::string>> settings;
};
/// Pick a file and read it: the take's own page shows what it would bring.
struct TakeFile {};
struct TakeApply {
  std::string join;  ///< Name of the other book as typed, for 'same business, two starts'.
};
/// Opens the locked file; what is in it is then read as any other.
struct TakeUnlock {
  Passphrase passphrase;
};
struct TakeCancel {};
/// Write a handover file and let it out; noted as given once it is really out.
struct GiveFile {
  GiveRequest request;
  bool share = false;          ///< By the share sheet; else saved.
  bool photos = false;         ///< Photos go along, as many as a file takes.
  Passphrase passphrase = {};  ///< Not empty: locks the file.
};
/// Something that leaves the book for people and other programs.
struct MakePaper {
  enum class How { Print, Save, Share };
  Function<Result<File>(const Book&)> make;
  How how = How::Save;
};
/// Choose a photo, or take one, for this record; its own page asks for the rest.
struct PickPhoto {
  Id of;
};
/// Keep the chosen photo with the record.
struct AddPhoto {
  Id of;
  std::string caption, when;  ///< As typed; empty = not said.
};
struct SavePhoto {
  Id photo;  ///< The record.
  bool share = false;
};
struct CopyText {
  std::string text;
};
struct TryAgain {};   ///< Of 'Not saved'.
struct UseHere {};    ///< The book is open in another window.
struct UseNewer {};   ///< Start the newer program that waits.
struct MakeDemo {};   ///< Fill the empty book with the demo farm.
struct LeaveDemo {};  ///< Empty the demo's book again: an own farm comes into its place.

using Ask = std::variant<Go, Back, Do, Set, TakeFile, TakeApply, TakeUnlock, TakeCancel, GiveFile, MakePaper, PickPhoto,
                         AddPhoto, SavePhoto, CopyText, TryAgain, UseHere, UseNewer, MakeDemo, LeaveDemo>;

struct Do {
  Function<Result<Outcome>(Book&, const Going&)> what;
  /// Asked for once it is written: a way onward, a setting.
  Function<std::optional<Ask>(const Outcome&)> then = {};
  bool ends_draft = false;  ///< The form was entered: its draft is dropped.
};
/// Of a command without cautions.
Do write_plainly(Function<Result<void>(Book&, const Id& person)> what,
                 Function<std::optional<Ask>(const Outcome&)> then = {});

/// Base of every page's input.
struct PageInput {
  std::optional<Problem> problem;  ///< Of the last thing asked for, until the next one.
  bool operator==(const PageInput&) const = default;
};

/// What stands around every page: tabs, saved mark, standing caution. Made by app/ for each frame.
struct Furniture {
  Tabs tabs;
  SavedMark saved;
  std::string not_saved_text;
  const TapeBand* band = nullptr;  ///< Standing caution, on first screens of tabs.
  PagePlace band_leads_to;
  std::vector<PagePlace> tab_places;  ///< Of each tab.
  PictureSource* pictures = nullptr;  ///< Photos to draw; nullptr = none can be.
  bool covered = false;               ///< The app's own sheet is open: a page draws none of its own.
  std::string problem;                ///< Why the last thing that this page asked for was refused; empty = it was not.
  Language language = Language::English;

  /// First screen of a tab: large title, bar, standing caution.
  ScreenSpec tab(std::string_view id, std::string_view title, std::string_view second) const;
  /// A page within a tab: arrow back, bar stays.
  ScreenSpec inner(std::string_view id, std::string_view title, std::string_view second) const;
  /// A form or a pass: arrow back, no bar.
  ScreenSpec form(std::string_view id, std::string_view title, std::string_view second) const;
  /// What the frame itself was asked for: a tab, back, 'try again', the band.
  std::optional<Ask> asked(const Screen& screen) const;
};

// ---- The machinery ----
class Page {
 public:
  virtual ~Page() = default;
  /// Makes the view if anything it rests on has moved. `key`: moves with counter, minute, settings.
  virtual void look_up(const Surroundings& around, std::uint64_t key) = 0;
  virtual std::optional<Ask> draw(const Furniture& furniture) = 0;
  /// Whatever was drawn changed the input: another frame is wanted.
  virtual bool moved() const = 0;
  virtual std::optional<Moment> good_until() const = 0;
  virtual bool keep_awake() const = 0;
  virtual void set_problem(std::optional<Problem> problem) = 0;
  virtual const std::optional<Problem>& problem() const = 0;
  /// What was asked for in this frame was not written: the form stands as it did before, so that it can be mended.
  virtual void take_back() = 0;
  /// It was written after all, with a reason: the form goes on as it would have.
  virtual void go_on() = 0;
  /// The problem because of which there is no view; nullptr = there is one.
  virtual const Problem* trouble() const = 0;
  virtual bool has_draft() const = 0;  ///< This page keeps drafts.
  virtual std::optional<DraftFields> draft() const = 0;
  virtual void take_draft(const DraftFields& fields) = 0;
};

template <class F>
struct PageTypes;
template <class V, class I>
struct PageTypes<Result<V> (*)(const Surroundings&, const I&)> {
  using View = V;
  using Input = I;
};

template <auto kView, auto kDraw>
class PageOf final : public Page {
  using View = typename PageTypes<decltype(kView)>::View;
  using Input = typename PageTypes<decltype(kView)>::Input;

 public:
  void look_up(const Surroundings& around, std::uint64_t key) override {
    const auto until = good_until();
    if (view_ && key == key_ && input_ == seen_ && !(until && *until <= around.now)) return;
    key_ = key;
    seen_ = input_;
    const Snapshot snapshot = around.book.snapshot();
    view_ = kView(around, input_);
  }
  std::optional<Ask> draw(const Furniture& furniture) override {
    if (!view_ || !*view_) return std::nullopt;
    return kDraw(**view_, input_, furniture);
  }
  bool moved() const override { return !(input_ == seen_); }
  std::optional<Moment> good_until() const override {
    if constexpr (requires(const View& v) { v.good_until; }) {
      if (view_ && *view_ && (*view_)->good_until.ms > 0) return (*view_)->good_until;
    }
    return std::nullopt;
  }
  bool keep_awake() const override {
    if constexpr (requires(const View& v) { v.keep_awake; }) return view_ && *view_ && (*view_)->keep_awake;
    return false;
  }
  void set_problem(std::optional<Problem> problem) override { input_.problem = std::move(problem); }
  const std::optional<Problem>& problem() const override { return input_.problem; }
  void take_back() override {
    asked_ = std::exchange(input_, seen_);
    input_.problem.reset();
  }
  void go_on() override {
    if (asked_) input_ = *std::exchange(asked_, std::nullopt);
  }
  const Problem* trouble() const override { return view_ && !*view_ ? &view_->error() : nullptr; }
  bool has_draft() const override { return kKeepsDraft; }
  std::optional<DraftFields> draft() const override {
    if constexpr (kKeepsDraft) return draft_fields(input_);
    return std::nullopt;
  }
  void take_draft(const DraftFields& fields) override {
    if constexpr (kKeepsDraft) from_draft(input_, fields);
  }

 private:
  static constexpr bool kKeepsDraft = requires(const Input& i) { draft_fields(i); };
  std::optional<Result<View>> view_;
  Input input_, seen_;
  std::optional<Input> asked_;  ///< As it was left when what it asked for was held up.
  std::uint64_t key_ = 0;
};

template <auto kView, auto kDraw>
std::unique_ptr<Page> page_of() {
  return std::make_unique<PageOf<kView, kDraw>>();
}

}  // namespace steep
