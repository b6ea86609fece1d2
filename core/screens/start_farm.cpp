#include "screens/start_farm.h"

#include "base/text.h"
#include "book/farm_commands.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/rows.h"
#include "screens/parts.h"

namespace steep {
namespace {

Habits habits_of(const UnitsShown& units) { return {units.mark, units.gallons}; }

std::string zone_of(const StartFarmInput& input, Platform& platform) {
  return input.zone_touched ? std::string(trim(input.zone)) : platform.zone_name();
}

TeaRuleAnswer rule_of(const StartFarmInput& input) {
  return tea_rule_answer(static_cast<TeaRuleChoice>(input.rule), input.days);
}

StartFarmView::Block block_text(const BlockGiven& block, const std::string& zero_end, const Surroundings& around) {
  const Words& words = around.words;
  StartFarmView::Block shown;
  shown.first = words.count("start_farm.block"_w, block.beds, {block.name});
  if (block.length && block.width) {
    shown.second = show_bed_size(as<Length>(*block.length), as<Length>(*block.width), around.units, words);
  }
  if (!zero_end.empty()) {
    const std::string zero = words("start_farm.zero_at"_w, {zero_end});
    shown.second = shown.second.empty() ? zero : shown.second + " · " + zero;
  }
  shown.spoken = words("start_farm.remove_block"_w, {block.name});
  return shown;
}

void add_missing(std::string& missing, const std::string& what) { missing += missing.empty() ? what : ", " + what; }

Result<std::vector<BlockGiven>> read_blocks(const std::vector<std::pair<std::string, std::string>>& lines,
                                            const UnitsShown& units) {
  std::vector<BlockGiven> blocks;
  for (const auto& [line, zero_end] : lines) {
    TRY_ASSIGN(BlockGiven block, read_block_line(line, habits_of(units), units.system));
    block.zero_end = zero_end;
    blocks.push_back(std::move(block));
  }
  return blocks;
}

Do start_it(FarmGiven given) {
  Do ask;
  ask.ends_draft = true;
  ask.what = [given = std::move(given)](Book& book, const Going& going) -> Result<Outcome> {
    TRY_ASSIGN(const StartedFarm& started, start_farm(book, given, going));
    Outcome outcome;
    outcome.written = true;
    outcome.record = started.person;
    return outcome;
  };
  // Who started it is who writes on this copy.
  ask.then = [](const Outcome& outcome) -> std::optional<Ask> {
    return Set{{{setting::kPerson, outcome.record.text()}}};
  };
  return ask;
}

}  // namespace

DraftFields draft_fields(const StartFarmInput& input) {
  DraftFields fields;
  const auto put = [&](const std::string& key, const std::string& value) {
    if (!value.empty()) fields[key] = value;
  };
  put("name", input.name);
  put("person", input.person);
  put("line", input.line);
  put("zero", input.zero_end);
  put("days", input.days);
  if (input.zone_touched) fields["zone"] = input.zone;
  if (input.rule >= 0) fields["rule"] = std::to_string(input.rule);
  for (std::size_t i = 0; i < input.blocks.size(); ++i) {
    fields["block" + std::to_string(i)] = input.blocks[i].first;
    put("block-zero" + std::to_string(i), input.blocks[i].second);
  }
  return fields;
}

void from_draft(StartFarmInput& input, const DraftFields& fields) {
  const auto get = [&](const std::string& key) {
    const auto found = fields.find(key);
    return found == fields.end() ? std::string() : found->second;
  };
  input.name = get("name");
  input.person = get("person");
  input.line = get("line");
  input.zero_end = get("zero");
  input.days = get("days");
  input.zone_touched = fields.count("zone") != 0;
  input.zone = get("zone");
  if (const auto rule = parse_int(get("rule"))) input.rule = static_cast<int>(*rule);
  input.blocks.clear();
  for (std::size_t i = 0; fields.count("block" + std::to_string(i)) != 0; ++i) {
    input.blocks.emplace_back(get("block" + std::to_string(i)), get("block-zero" + std::to_string(i)));
  }
}

namespace {

void say_blocks(StartFarmView& view, const Surroundings& around, const StartFarmInput& input) {
  const Words& words = around.words;
  view.blocks_title = words("start_farm.blocks"_w);
  view.line_label = words("start_farm.block_line"_w);
  view.line_hint = around.units.system == System::Metric ? words("start_farm.block_hint_metric"_w)
                                                         : words("start_farm.block_hint"_w);
  view.zero_label = words("start_farm.zero_end"_w);
  view.zero_hint = words("start_farm.zero_hint"_w);
  view.add = words("start_farm.add_block"_w);
  view.remove = words("start_farm.remove"_w);
  for (const auto& [line, zero_end] : input.blocks) {
    const auto block = read_block_line(line, habits_of(around.units), around.units.system);
    view.blocks.push_back(block ? block_text(*block, zero_end, around)
                                : StartFarmView::Block{line, around.sentence(block.error()), {}});
  }
  if (trim(input.line).empty()) return;
  const auto block = read_block_line(input.line, habits_of(around.units), around.units.system);
  view.can_add = block.has_value();
  if (!block) view.line_error = around.sentence(block.error());
}

void say_rule(StartFarmView& view, const Words& words, const StartFarmInput& input) {
  view.rule_question = words("start_farm.rule"_w);
  view.rule_choices = {words("start_farm.rule_0"_w), words("start_farm.rule_1"_w), words("start_farm.rule_other"_w),
                       words("start_farm.rule_not_decided"_w)};
  view.rule_texts = {words("start_farm.rule_nosb"_w), words("start_farm.rule_fda"_w)};
  view.days_label = words("start_farm.days"_w);
  const bool other = input.rule == static_cast<int>(TeaRuleChoice::Other);
  if (other && !trim(input.days).empty() && !rule_of(input).given) view.days_error = words("start_farm.days_error"_w);
  if (input.rule == static_cast<int>(TeaRuleChoice::NotDecided))
    view.rule_note = words("start_farm.not_decided_holds"_w);
}

void say_missing(StartFarmView& view, const Words& words, const StartFarmInput& input, bool has_zone) {
  if (trim(input.name).empty()) add_missing(view.missing, words("start_farm.missing_name"_w));
  if (trim(input.person).empty()) add_missing(view.missing, words("start_farm.missing_person"_w));
  if (input.blocks.empty() && !view.can_add) add_missing(view.missing, words("start_farm.missing_block"_w));
  if (!rule_of(input).given) add_missing(view.missing, words("start_farm.missing_rule"_w));
  if (!has_zone) add_missing(view.missing, words("start_farm.missing_zone"_w));
  view.can_start = view.missing.empty();
  if (!view.missing.empty()) view.missing = words("start_farm.missing"_w, {view.missing});
}

}  // namespace

Result<StartFarmView> start_farm_view(const Surroundings& around, const StartFarmInput& input) {
  const Words& words = around.words;
  StartFarmView view;
  view.title = words("start_farm.title"_w);
  view.second = words("start_farm.second"_w);
  view.name_label = words("start_farm.name"_w);
  view.name_hint = words("start_farm.name_hint"_w);
  view.person_label = words("start_farm.person"_w);
  view.person_hint = words("start_farm.person_hint"_w);
  view.zone_label = words("start_farm.zone"_w);
  say_blocks(view, around, input);
  say_rule(view, words, input);
  const std::string zone = zone_of(input, around.platform);
  view.zone = zone;
  view.units = around.units;
  const auto zone_read = Zone::from_name(zone);
  if (!zone_read && !zone.empty()) view.zone_error = around.sentence(zone_read.error());

  say_missing(view, words, input, zone_read.has_value());
  view.start = words("start_farm.start"_w);
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

namespace {

void draw_blocks(Pen& pen, const StartFarmView& view, StartFarmInput& input) {
  Card card(pen, {.id = "blocks", .head = view.blocks_title, .edge = CardEdge::Ink});
  for (std::size_t i = 0; i < view.blocks.size(); ++i) {
    IdScope scope("block", static_cast<std::int64_t>(i));
    const StartFarmView::Block& block = view.blocks[i];
    const Box row = card.pen.take(
        std::max(56.0f, list_row_height(card.pen.width() - 56, {.first = block.first, .second = block.second})));
    list_row(Box{row.left, row.top, row.right - 56, row.bottom}, {.id = "row",
                                                                  .icon = Icon::Beds,
                                                                  .first = block.first,
                                                                  .second = block.second,
                                                                  .opens = false,
                                                                  .line_above = i > 0});
    if (icon_button(centered({row.right - 48, row.top, row.right, row.bottom}, 48, 48), "remove", Icon::Close,
                    block.spoken)) {
      input.blocks.erase(input.blocks.begin() + static_cast<std::ptrdiff_t>(i));
      return;
    }
  }
  text_field(
      card.pen,
      {.id = "line", .label = view.line_label, .hint = view.line_hint, .error = view.line_error, .max_length = 120},
      input.line);
  card.pen.space(size::kGrid);
  text_field(card.pen, {.id = "zero", .label = view.zero_label, .hint = view.zero_hint, .max_length = 40},
             input.zero_end);
  card.pen.space(size::kGrid);
  if (button(card.pen, {.id = "add", .text = view.add, .icon = Icon::Plus, .enabled = view.can_add})) {
    // The next block mostly has its zero end at the same lane.
    input.blocks.emplace_back(std::string(trim(input.line)), std::string(trim(input.zero_end)));
    input.line.clear();
  }
}

void draw_rule(Pen& pen, const StartFarmView& view, StartFarmInput& input) {
  Card card(pen, {.id = "rule", .head = view.rule_question, .edge = CardEdge::Ink});
  std::vector<Choice> choices;
  for (const std::string& text : view.rule_choices) choices.push_back({.text = text});
  if (const int i = choice_cells(card.pen, "rule-choice", view.rule_question, choices, input.rule, 4); i >= 0)
    input.rule = i;
  if (input.rule == static_cast<int>(TeaRuleChoice::Other)) {
    card.pen.space(size::kGrid);
    text_field(
        card.pen,
        {.id = "days", .label = view.days_label, .error = view.days_error, .kind = FieldKind::Integer, .max_length = 4},
        input.days);
  }
  card.pen.space(size::kGrid);
  rule_line(card.pen, {.id = "texts", .lines = view.rule_texts, .opens = false});
  if (!view.rule_note.empty()) {
    card.pen.space(size::kGrid);
    caution_note(card.pen, view.rule_note);
  }
}

std::optional<Ask> start_asked(const StartFarmView& view, const StartFarmInput& input) {
  FarmGiven given;
  given.name = std::string(trim(input.name));
  given.person_name = std::string(trim(input.person));
  given.zone_name = std::string(trim(input.zone_touched ? input.zone : view.zone));
  given.units = view.units.system;
  given.tea_wait_days = rule_of(input).wait();
  auto lines = input.blocks;
  if (view.can_add) lines.emplace_back(std::string(trim(input.line)), std::string(trim(input.zero_end)));
  auto blocks = read_blocks(lines, view.units);
  if (!blocks)
    return write_plainly(
        [problem = blocks.error()](Book&, const Id&) -> Result<void> { return tl::unexpected(problem); });
  given.blocks = std::move(*blocks);
  return start_it(std::move(given));
}

}  // namespace

std::optional<Ask> draw_start_farm(const StartFarmView& view, StartFarmInput& input, const Furniture& furniture) {
  Screen screen(furniture.form("start-farm", view.title, view.second));
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen());
    problem_line(pen, view.problem);
    text_field(pen, {.id = "name", .label = view.name_label, .hint = view.name_hint, .max_length = 80}, input.name);
    pen.space(size::kGroupGap);
    text_field(
        pen,
        {.id = "person", .label = view.person_label, .hint = view.person_hint, .icon = Icon::Person, .max_length = 80},
        input.person);
    pen.space(size::kGroupGap);
    draw_blocks(pen, view, input);
    draw_rule(pen, view, input);
    if (!input.zone_touched && input.zone.empty()) input.zone = view.zone;
    if (text_field(pen,
                   {.id = "zone",
                    .label = view.zone_label,
                    .error = view.zone_error,
                    .icon = Icon::Clock,
                    .kind = FieldKind::Code,
                    .max_length = 60},
                   input.zone)
            .changed) {
      input.zone_touched = true;
    }
    main.pen().below(pen);
  }
  {
    ScreenPart actions = screen.actions();
    Pen& pen = actions.pen();
    if (!view.missing.empty()) missing_line(pen, view.missing);
    if (button(pen, {.id = "start", .text = view.start, .kind = ButtonKind::Primary, .enabled = view.can_start}) &&
        view.can_start) {
      ask = start_asked(view, input);
    }
  }
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
