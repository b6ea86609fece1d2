// What the program itself draws: the furniture of every page, cautions that hold something up, and
// what is shown when there is no page.

#include <array>

#include "app/inside.h"
#include "look/button.h"
#include "look/caution.h"
#include "look/frame.h"
#include "look/sheet.h"

namespace steep {
namespace {

/// The tab under which a page lies: the root of the way.
int tab_of(const std::vector<PagePlace>& way) {
  const auto all = tabs();
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].page == way.front().page) return static_cast<int>(i);
  }
  return -1;
}

}  // namespace

Furniture App::Inside::furniture() {
  Furniture around;
  around.language = settings.language;
  tab_texts.clear();
  tab_spoken.clear();
  tab_list.clear();
  const Words words = chosen_words();
  const auto all = tabs();
  for (const TabEntry& entry : all) {
    tab_texts.push_back(words(entry.word));
    const bool badge = entry.page == "book" && not_confirmed > 0;
    tab_spoken.push_back(badge ? words.count("app.book_not_confirmed"_w, not_confirmed) : std::string());
    around.tab_places.push_back({std::string(entry.page), {}});
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    Tab tab;
    tab.word = tab_texts[i];
    tab.icon = all[i].icon;
    tab.count = all[i].page == "book" ? not_confirmed : 0;
    tab.spoken = tab_spoken[i];
    tab_list.push_back(tab);
  }
  around.tabs.tabs = tab_list;
  around.tabs.current = tab_of(way);
  around.tabs.bottom_count = 5;
  around.tabs.foot = static_cast<int>(all.size()) - 1;

  const StorageHealth health = platform.storage();
  switch (health.state) {
    case SaveState::Saved: around.saved.state = SavedState::Saved; break;
    case SaveState::Saving: around.saved.state = SavedState::Saving; break;
    case SaveState::NotSaved: around.saved.state = SavedState::NotSaved; break;
  }
  around.saved.detail = saved_detail;
  if (health.state == SaveState::NotSaved) around.not_saved_text = words("app.not_saved"_w);
  const auto draft = drafts.find(here());
  if (draft != drafts.end() && draft->second.kept_at.ms > 0 && health.state == SaveState::Saved) {
    around.saved.state = SavedState::DraftSaved;
    draft_detail = surroundings({}).clock(draft->second.kept_at);
    around.saved.detail = draft_detail;
  }
  if (standing) {
    standing_band = standing->band();
    around.band = &standing_band;
    around.band_leads_to = standing->leads_to;
  }
  around.pictures = &pictures;
  around.covered = held_up.has_value();
  return around;
}

void App::Inside::draw_page(const PagePlace& place) {
  Page* current = page(place);
  if (!current) {
    Problem missing;
    missing.kind = Trouble::NotFound;
    missing.word = "app.no_page"_w;
    draw_trouble(missing, true);
    return;
  }
  current->look_up(surroundings(place), key);
  if (const Problem* problem = current->trouble()) {
    draw_trouble(*problem, way.size() > 1);
    return;
  }
  Furniture around = furniture();
  if (const auto& problem = current->problem()) around.problem = surroundings(place).sentence(*problem);
  if (!around.problem.empty()) {
    say_on_sheet(refused_on, around.problem);
    if (refused_on != 0 && refused_on == sheet_on_screen()) around.problem.clear();  // Said there.
  }
  std::optional<Ask> ask = current->draw(around);
  watch_draft(place, *current);
  if (current->moved()) again = true;
  if (held_up) {
    draw_held_up();
    return;  // What lies under the sheet is not asked for.
  }
  if (ask) answer(*ask, place);
}

/// Warn: what is to be said, the reasons people usually give, and the two ways on.
void App::Inside::draw_held_up() {
  const Words words = chosen_words();
  SheetSpec spec;
  spec.id = "held-up";
  const std::string title = words("app.before_it_is_written"_w);
  spec.title = title;
  bool go_on = false, leave = false;
  {
    Sheet sheet(spec);
    for (const std::string& sentence : held_up->sentences) {
      CautionLine caution;
      caution.id = sentence;
      caution.text = sentence;
      caution_line(sheet.pen(), caution);
      sheet.pen().space(size::kGrid);
    }
    Confirm confirm_spec;
    confirm_spec.id = "held-up-reason";
    const std::string label = words("app.reason_to_go_on"_w), go_text = words("app.write_it"_w),
                      safe = words("app.leave_it"_w);
    const std::string needed = words("app.reason_needed"_w);
    const std::array<std::string, 3> usual = {words("app.reason_checked"_w), words("app.reason_known"_w),
                                              words("app.reason_measured"_w)};
    std::array<Choice, 3> reasons;
    for (std::size_t i = 0; i < usual.size(); ++i) reasons[i].text = usual[i];
    confirm_spec.reason_label = label;
    confirm_spec.reasons = reasons;
    confirm_spec.go = go_text;
    confirm_spec.safe = safe;
    confirm_spec.can_go = !held_up->reason.empty();
    confirm_spec.why_not = needed;
    std::string error;
    if (held_up->problem) error = surroundings({}).sentence(*held_up->problem);
    confirm_spec.error = error;
    const int pressed = confirm(sheet.pen(), confirm_spec, held_up->reason);
    go_on = pressed == 1 && !held_up->reason.empty();
    leave = pressed == 0 || sheet.closed();
  }
  if (go_on) {
    const HeldUp held = *held_up;
    again = true;
    run(held.ask, held.from, held.reason);
  } else if (leave) {
    held_up.reset();
    again = true;
  }
}

void App::Inside::draw_demo_progress() {
  const Words words = chosen_words();
  ScreenSpec spec;
  spec.id = "demo-progress";
  const std::string title = words("app.demo_comes"_w);
  spec.title = title;
  spec.has_saved = false;
  Screen screen(spec);
  ScreenPart main = screen.main();
  paragraph(main.pen(), words("app.demo_share"_w, {std::to_string(static_cast<int>(demo_share * 100))}),
            TextStyle::Strong);
  want_frame();
}

void App::Inside::draw_trouble(const Problem& problem, bool can_back) {
  const Words words = chosen_words();
  ScreenSpec spec;
  spec.id = "trouble";
  const std::string title = book ? words("app.cannot_show"_w) : words("app.cannot_open"_w);
  spec.title = title;
  spec.back = can_back;
  spec.has_saved = false;
  Furniture around;
  if (book && book->is_started()) {
    around = furniture();
    spec.tabs = &around.tabs;
  }
  std::optional<Ask> ask;
  {
    Screen screen(spec);
    {
      ScreenPart main = screen.main();
      SpellAs as;
      as.units = units(farm);
      as.today = Zone().local(last_now).date;
      paragraph(main.pen(), spell(problem, words, as), TextStyle::Strong);
      main.pen().space(size::kGrid);
      paragraph(main.pen(), words(book ? "app.other_pages_work"_w : "app.book_is_untouched"_w));
      if (!problem.place.empty()) {
        main.pen().space(size::kGrid);
        paragraph(main.pen(), problem.place, TextStyle::Label);
      }
      if (!book) draw_ways_out(main.pen());
    }
    ask = around.asked(screen);
  }
  if (ask) answer(*ask, here());
}

/// Of a book that does not open. What else would start the newer version is out of reach then.
void App::Inside::draw_ways_out(Pen& pen) {
  const Words words = chosen_words();
  const auto way_out = [&](std::string_view id, WordId word) {
    const std::string text = words(word);
    pen.space(size::kGroupGap);
    return button(pen, {.id = id, .text = text});
  };
  if (way_out("open-again", "app.open_again"_w)) reopen = true;
  if (platform.program().newer_waits && way_out("use-newer", "app.use_newer"_w)) platform.use_newer();
  if (options.get_book_out && way_out("get-out", "app.get_book_out"_w)) options.get_book_out();
}

/// The other window's book is the newer one. What this one holds beyond it goes into a file, which merges.
void App::Inside::draw_elsewhere() {
  const Words words = chosen_words();
  const bool unsaved = book && book->is_started() && platform.storage().state == SaveState::NotSaved;
  ScreenSpec spec;
  spec.id = "elsewhere";
  const std::string title = words("app.open_elsewhere"_w);
  spec.title = title;
  spec.has_saved = false;
  bool give_out = false;
  {
    Screen screen(spec);
    {
      ScreenPart main = screen.main();
      paragraph(main.pen(), words("app.open_elsewhere_why"_w));
      if (unsaved) {
        main.pen().space(size::kGroupGap);
        paragraph(main.pen(), words("app.open_elsewhere_unsaved"_w), TextStyle::Strong);
        main.pen().space(size::kGrid);
        const std::string text = words("app.save_unsaved"_w);
        give_out = button(main.pen(), {.id = "save-unsaved", .text = text});
      }
    }
    ScreenPart actions = screen.actions();
    const std::string text = words("app.use_here"_w);
    if (button(actions.pen(), {.id = "use-here", .text = text, .kind = ButtonKind::Primary})) platform.use_here();
  }
  if (give_out) answer(GiveFile{}, here());
}

}  // namespace steep
