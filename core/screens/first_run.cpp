#include "screens/first_run.h"

#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/draw.h"
#include "look/rows.h"
#include "screens/parts.h"

namespace steep {

Result<FirstRunView> first_run_view(const Surroundings& around, const FirstRunInput& input) {
  const Words& words = around.words;
  FirstRunView view;
  view.name = words("app.program"_w);
  view.line = words("first_run.line"_w);
  view.first = words("first_run.no_book"_w);
  view.why = words("first_run.stays_here"_w);
  view.take = {words("first_run.take"_w), words("first_run.take_why"_w)};
  view.start = {words("first_run.start"_w), words("first_run.start_why"_w)};
  view.demo = {words("first_run.demo"_w), words("first_run.demo_why"_w)};
  view.language = {
      words("settings.language"_w), {"English", "Español"}, around.words.language() == Language::Spanish ? 1 : 0};
  view.units = {words("settings.units"_w),
                {words("settings.units_us"_w), words("settings.units_metric"_w)},
                around.units.system == System::Metric ? 1 : 0};
  view.decimals = {words("settings.decimals"_w), {"0.26", "0,26"}, around.units.mark == DecimalMark::Comma ? 1 : 0};
  view.caution = words("first_run.one_device"_w);
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

namespace {

void draw_head(Pen& pen, const FirstRunView& view) {
  const float mark = 64, gap = 16;
  const float room = pen.width() - mark - gap;
  const float title = line_height(TextStyle::M);
  const float line = wrapped_height(room, TextStyle::Label, view.line);
  const Box box = pen.take(std::max(mark, title + line));
  draw_icon({box.left + mark / 2, box.center().y}, mark, Icon::Mark, colors().ink);
  const float top = box.center().y - (title + line) / 2, left = box.left + mark + gap;
  draw_text({left, top, box.right, top + title}, TextStyle::M, colors().ink, view.name);
  draw_wrapped({left, top + title, box.right, box.bottom + line}, TextStyle::Label, colors().ink2, view.line);
  add_text_item(Role::Heading, view.name, {left, top, box.right, top + title});
  add_text_item(Role::Text, view.line, {left, top + title, box.right, box.bottom});
}

int choose(Pen& pen, std::string_view id, Icon icon, const FirstRunView::Line& line, bool line_above) {
  const std::array<Choice, 2> choices{Choice{.text = line.choices[0]}, Choice{.text = line.choices[1]}};
  const Box box = setting_line(pen, icon, line.word, scaled(190), line_above);
  return segmented(box, id, line.word, choices, line.chosen);
}

std::optional<Ask> draw_settings(Pen& pen, const FirstRunView& view) {
  std::optional<Ask> ask;
  Card card(pen, {.id = "settings"});
  if (const int i = choose(card.pen, "language", Icon::Translate, view.language, false); i >= 0) {
    ask = Set{{{setting::kLanguage, i == 1 ? "es" : "en"}}};
  }
  if (const int i = choose(card.pen, "units", Icon::Scales, view.units, true); i >= 0) {
    ask = Set{{{setting::kUnits, i == 1 ? "metric" : "us"}}};
  }
  if (const int i = choose(card.pen, "decimals", Icon::Dialpad, view.decimals, true); i >= 0) {
    ask = Set{{{setting::kMark, i == 1 ? "," : "."}}};
  }
  return ask;
}

}  // namespace

std::optional<Ask> draw_first_run(const FirstRunView& view, FirstRunInput&, const Furniture& furniture) {
  ScreenSpec spec = furniture.form("first-run", view.name, view.line);
  spec.bare = true;
  spec.back = false;
  spec.has_saved = false;
  Screen screen(spec);
  ScreenPart main = screen.main();
  Pen& page = main.pen();
  page.space(look().screen() == ScreenClass::Landscape ? 8 : 28);
  Pen pen = reading_column(page, 560);
  std::optional<Ask> ask;

  draw_head(pen, view);
  pen.space(16);
  heading(pen, view.first, TextStyle::Strong);
  paragraph(pen, view.why);
  pen.space(16);
  problem_line(pen, view.problem);
  if (big_choice(pen, {.id = "take",
                       .first = view.take.first,
                       .second = view.take.second,
                       .icon = Icon::FileIn,
                       .primary = true,
                       .file_pick = true})) {
    ask = TakeFile{};
  }
  if (big_choice(pen, {.id = "start", .first = view.start.first, .second = view.start.second, .icon = Icon::Plus})) {
    ask = Go{{"start-farm", {}}};
  }
  if (big_choice(pen, {.id = "demo", .first = view.demo.first, .second = view.demo.second, .icon = Icon::Eye})) {
    ask = MakeDemo{};
  }
  pen.space(24);
  if (auto set = draw_settings(pen, view)) ask = set;
  pen.space(6);
  caution_note(pen, view.caution);
  page.below(pen);
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
