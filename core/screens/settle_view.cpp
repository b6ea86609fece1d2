#include "screens/settle_view.h"

#include "base/text.h"
#include "book/enter.h"
#include "book/questions.h"
#include "book/record_commands.h"
#include "book/tables.h"
#include "look/button.h"
#include "look/caution.h"
#include "look/field.h"
#include "look/frame.h"
#include "look/rows.h"
#include "look/settle.h"
#include "quantity/time_shown.h"
#include "screens/parts.h"

namespace steep {
namespace {

std::string field_name(std::string_view kind, std::string_view key, const Words& words) {
  const auto dot = key.find('.');
  const auto shortest = dot == std::string_view::npos ? key : key.substr(dot + 1);
  return words.stored("field." + std::string(kind) + "." + std::string(key),
                      words.stored("field." + std::string(shortest), shortest));
}

std::string value_text(const FieldValue& field, const Surroundings& around) {
  switch (field.type) {
    case FieldType::NotTaken: return around.words("look.not_taken"_w);
    case FieldType::Quantity:
      if (const auto written = parse_written(field.text)) return show(*written, around.units, around.words);
      return field.text;
    case FieldType::Instant:
      if (const auto stamp = parse_stamp(field.text)) return around.when(stamp->at);
      return field.text;
    case FieldType::Date:
      if (const auto date = parse_date(field.text)) return show_full_day(*date, around.words);
      return field.text;
    case FieldType::Reference: {
      const auto id = Id::parse(field.text);
      const std::string name = id ? record_name(around.book, *id) : "";
      return name.empty() ? around.words("settle.not_here"_w) : name;
    }
    case FieldType::List: return join(field.items, ", ");
    case FieldType::YesNo: return around.words(field.text == "yes" ? "paper.yes"_w : "paper.no"_w);
    default: return printable(field.text);
  }
}

SettleView::Version version_shown(const DifferingVersion& version, const Surroundings& around) {
  SettleView::Version shown;
  std::vector<std::string> whose = {version.copy.empty() ? around.words("settle.this_book"_w) : version.copy, around.when(version.at)};
  if (!version.who.empty()) whose.push_back(version.who);
  shown.whose = join(whose, " · ");
  shown.value = fact_text(version.fields, around);
  std::vector<std::string> detail;
  if (!version.why.empty()) detail.push_back(version.why);
  if (version.clock_doubtful) detail.push_back(around.words("settle.clock_doubtful"_w));
  if (!version.not_seen.empty()) detail.push_back(around.words("settle.had_not_seen"_w, {join(version.not_seen, ", ")}));
  shown.detail = join(detail, " · ");
  return shown;
}

/// 'name=value, name=value' as typed for a whole fact.
Result<EnterFields> typed_fields(const std::string& typed) {
  EnterFields fields;
  for (const std::string_view piece : split(typed, ',')) {
    const auto mark = piece.find('=');
    if (mark == std::string_view::npos) return refuse(Trouble::BadInput, "settle.name_value"_w, {std::string(trim(piece))});
    fields.emplace_back(trim(piece.substr(0, mark)), trim(piece.substr(mark + 1)));
  }
  return fields;
}

Do settle_all(const SettleView& view, const SettleInput& input) {
  Do ask;
  ask.what = [view, input](Book& book, const Going& going) -> Result<Outcome> {
    Outcome last;
    for (std::size_t i = 0; i < view.facts.size(); ++i) {
      const int chosen = i < input.chosen.size() ? input.chosen[i] : -1;
      if (chosen < 0) continue;
      const auto& fact = view.facts[i];
      if (chosen < static_cast<int>(fact.versions.size())) {
        TRY_ASSIGN(last, settle(book, view.record, fact.group, static_cast<std::size_t>(chosen), input.reason, going));
      } else {
        TRY_ASSIGN(const EnterFields fields, typed_fields(input.typed[i]));
        TRY_ASSIGN(const auto values, read_fields(book, book.kind_of(view.record), fields, {}));
        TRY_ASSIGN(last, settle(book, view.record, fact.group, values, input.reason, going));
      }
      if (!last.written) return last;
    }
    return last;
  };
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Back{}; };
  return ask;
}

void make_room(SettleInput& input, std::size_t facts) {
  input.chosen.resize(facts, -1);
  input.typed.resize(facts);
}

int count_chosen(const SettleInput& input) {
  int n = 0;
  for (const int chosen : input.chosen) n += chosen >= 0 ? 1 : 0;
  return n;
}

}  // namespace

std::string fact_text(const std::vector<FieldValue>& fields, const Surroundings& around) {
  std::vector<std::string> pieces;
  for (const FieldValue& field : fields) pieces.push_back(value_text(field, around));
  return join(pieces, ", ");
}

Result<SettleView> settle_of(const Surroundings& around, const Id& record) {
  const Words& words = around.words;
  TRY_ASSIGN(const DifferingRecord differs, differing(around.book, record));
  SettleView view;
  view.record = record;
  view.title = words.stored("kind." + differs.kind, differs.kind) + " " + record_name(around.book, record);
  view.second = words("settle.second"_w);
  view.same_head = words("settle.same"_w);
  view.reason_label = words("settle.reason"_w);
  view.later = words("settle.later"_w);
  view.why_not = words("settle.choose_first"_w);
  view.go = words("settle.go"_w);
  view.nothing = words("settle.nothing"_w);
  for (const DifferingGroup& group : differs.groups) {
    SettleView::FactShown fact;
    fact.group = group.group;
    fact.fact = field_name(differs.kind, group.group, words);
    if (!group.before.empty()) fact.hangs = words("settle.before"_w, {fact_text(group.before, around)});
    fact.other = words("settle.type_another"_w);
    for (const DifferingVersion& version : group.versions) fact.versions.push_back(version_shown(version, around));
    view.facts.push_back(std::move(fact));
  }
  for (const FieldValue& field : differs.same)
    view.same.emplace_back(field_name(differs.kind, field.key, words), value_text(field, around));
  return view;
}

Result<SettleView> settle_view(const Surroundings& around, const SettleInput&) { return settle_of(around, around.record); }

void draw_settle_cards(Pen& pen, const SettleView& view, SettleInput& input) {
  make_room(input, view.facts.size());
  if (view.facts.empty()) paragraph(pen, view.nothing);
  for (std::size_t i = 0; i < view.facts.size(); ++i) {
    const auto& fact = view.facts[i];
    const IdScope scope("fact", static_cast<std::int64_t>(i));
    std::vector<SettleVersion> versions;
    for (const auto& version : fact.versions) versions.push_back({version.whose, version.value, version.detail});
    const int pressed = settle_card(pen, {.id = "card", .fact = fact.fact, .hangs = fact.hangs, .versions = versions,
                                          .chosen = input.chosen[i], .other = fact.other});
    if (pressed >= 0) input.chosen[i] = pressed == input.chosen[i] ? -1 : pressed;
    if (input.chosen[i] == static_cast<int>(versions.size()))
      text_field(pen, {.id = "typed", .label = fact.other, .hint = look_words()("settle.typed_hint"_w)}, input.typed[i]);
  }
  if (!view.same.empty()) {
    std::vector<Fact> facts;
    for (const auto& [name, value] : view.same) facts.push_back({name, value});
    fact_line(pen, view.same_head, facts);
    pen.space(8);
  }
  if (!view.facts.empty()) text_field(pen, {.id = "reason", .label = view.reason_label}, input.reason);
}

std::optional<Ask> draw_settle_buttons(Pen& pen, const SettleView& view, SettleInput& input) {
  if (view.facts.empty()) return std::nullopt;
  make_room(input, view.facts.size());
  const bool ready = count_chosen(input) > 0 && !trim(input.reason).empty();
  const int pressed = buttons(pen, {{.id = "later", .text = view.later},
                                    {.id = "settle", .text = view.go, .icon = Icon::Tick, .kind = ButtonKind::Primary, .enabled = ready,
                                     .why_not = view.why_not}},
                              {-1, -2});
  if (pressed == 0) return Back{};
  if (pressed == 1) return settle_all(view, input);
  return std::nullopt;
}

std::optional<Ask> draw_settle(const SettleView& view, SettleInput& input, const Furniture& furniture) {
  std::optional<Ask> asked;
  Screen screen(furniture.form("settle", view.title, view.second));
  {
    ScreenPart main = screen.main();
    problem_line(main.pen(), input.problem ? look_words()(*input.problem) : std::string());
    draw_settle_cards(main.pen(), view, input);
  }
  {
    ScreenPart actions = screen.actions();
    asked = draw_settle_buttons(actions.pen(), view, input);
  }
  if (!asked) asked = furniture.asked(screen);
  return asked;
}

}  // namespace steep
