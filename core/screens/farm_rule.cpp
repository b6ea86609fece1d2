#include "screens/farm_rule.h"

#include "base/text.h"
#include "book/farm_commands.h"
#include "book/places.h"
#include "book/things.h"
#include "look/button.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "screens/parts.h"
#include "screens/tea_rule.h"

namespace steep {
namespace {

TeaRuleAnswer rule_of(const FarmRuleInput& input) {
  return tea_rule_answer(static_cast<TeaRuleChoice>(input.choice), input.days);
}

Do set_rule(const Id& farm, std::optional<int> days, std::string by) {
  Do ask;
  ask.what = [farm, days, by = std::move(by)](Book& book, const Going& going) {
    return set_farm_rule(book, farm, days, by, going);
  };
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Back{}; };
  return ask;
}

}  // namespace

Result<FarmRuleView> farm_rule_view(const Surroundings& around, const FarmRuleInput& input) {
  const Words& words = around.words;
  TRY_ASSIGN(const Farm& farm, read_farm(around.book, around.farm));
  FarmRuleView view;
  view.farm = farm.id;
  view.by = person_name(around.book, around.person);
  view.title = words("rule.title"_w);
  view.second = farm.name;
  view.question = words("start_farm.rule"_w);
  view.choices = {words("start_farm.rule_0"_w), words("start_farm.rule_1"_w), words("start_farm.rule_other"_w),
                  words("start_farm.rule_not_decided"_w)};
  view.rules = {words("start_farm.rule_nosb"_w), words("start_farm.rule_fda"_w)};
  view.days_label = words("rule.days"_w);
  view.save = words("beds.save"_w);
  view.why_not = words("rule.why_not"_w);
  view.now_line = farm.tea_wait_days ? words.count("rule.now"_w, *farm.tea_wait_days, {farm.tea_wait_by})
                                     : words("rule.now_undecided"_w);
  view.ready = rule_of(input).given;
  if (static_cast<TeaRuleChoice>(input.choice) == TeaRuleChoice::Other && !trim(input.days).empty() && !view.ready)
    view.days_error = words("rule.days_error"_w);
  return view;
}

std::optional<Ask> draw_farm_rule(const FarmRuleView& view, FarmRuleInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  Screen screen(furniture.form("farm-rule", view.title, view.second));
  {
    ScreenPart main = screen.main();
    Pen column = reading_column(main.pen());
    problem_line(column, furniture.problem);
    paragraph(column, view.now_line, TextStyle::Label);
    column.space(10);
    heading(column, view.question, TextStyle::Strong);
    column.space(8);
    std::vector<Choice> choices;
    for (const std::string& choice : view.choices) choices.push_back({.text = choice});
    if (const int chosen = choice_cells(column, "days", view.question, choices, input.choice); chosen >= 0)
      input.choice = chosen;
    if (static_cast<TeaRuleChoice>(input.choice) == TeaRuleChoice::Other)
      text_field(column,
                 {.id = "other", .label = view.days_label, .error = view.days_error, .kind = FieldKind::Integer},
                 input.days);
    column.space(12);
    rule_line(column, {.id = "rules", .lines = view.rules, .opens = false});
    main.pen().below(column);
  }
  {
    ScreenPart actions = screen.actions();
    if (button(actions.pen(), {.id = "save",
                               .text = view.save,
                               .icon = Icon::Tick,
                               .kind = ButtonKind::Primary,
                               .enabled = view.ready,
                               .why_not = view.why_not}))
      ask = set_rule(view.farm, rule_of(input).wait(), view.by);
  }
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
