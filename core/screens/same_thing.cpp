#include "screens/same_thing.h"

#include <algorithm>

#include "book/called.h"
#include "book/fold.h"
#include "book/places.h"
#include "book/record_commands.h"
#include "book/settle_commands.h"
#include "book/things.h"
#include "book/twins.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/frame.h"
#include "look/rows.h"
#include "screens/fact_text.h"
#include "screens/parts.h"

namespace steep {
namespace {

std::vector<FieldValue> fields_of(const Record& record) {
  std::vector<FieldValue> fields;
  for (const Group& group : record.groups)
    for (const FieldValue& field : group.heads.front().fields)
      if (field.key != "not_same" && field.key != "same_as") fields.push_back(field);
  return fields;
}

bool says(const std::vector<FieldValue>& fields, const FieldValue& wanted) {
  return std::any_of(fields.begin(), fields.end(),
                     [&](const FieldValue& f) { return f.key == wanted.key && same_value(f, wanted); });
}

SameThingView::Side side_of(const Surroundings& around, const Record& record, const std::vector<FieldValue>& mine,
                            const std::vector<FieldValue>& theirs) {
  SameThingView::Side side;
  const std::string copy = lane_label(around.book, record.made_on);
  side.head = record_title(around, record.id);
  const auto farm = read_farm(around.book, record.part.farm);
  if (farm && record.kind != "farm") side.head += " · " + farm->name;
  side.by = around.words("same.written"_w,
                         {author_text(around, record.made.at, person_name(around.book, record.made_by), copy)});
  for (const FieldValue& field : mine)
    if (!says(theirs, field))
      side.facts.emplace_back(field_name(record.kind, field.key, around.words), value_text(field, around));
  return side;
}

Result<std::size_t> beds_in_common(const Book& book, const Id& a, const Id& b) {
  TRY_ASSIGN(const std::vector<TwinBeds>& twins, twin_beds(book));
  return static_cast<std::size_t>(std::count_if(twins.begin(), twins.end(), [&](const TwinBeds& pair) {
    return !pair.said && ((pair.block == a && pair.other_block == b) || (pair.block == b && pair.other_block == a));
  }));
}

Do answer(const SameThingView& view, bool one) {
  Do ask;
  ask.what = [view, one](Book& book, const Going& going) -> Result<Outcome> {
    if (!one) return say_not_same(book, view.record, view.other, going);
    if (view.ground) return join_ground(book, view.record, view.other, {}, going);
    return join_same(book, view.record, view.other, {}, going);
  };
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Back{}; };
  return ask;
}

}  // namespace

Result<SameThingView> same_thing_view(const Surroundings& around, const SameThingInput&) {
  const Words& words = around.words;
  TRY_ASSIGN(const std::optional<Record>& record, around.book.record(around.record));
  TRY_ASSIGN(const std::optional<Record>& other, around.book.record(around.other));
  if (!record || !other) return refuse(Trouble::NotFound, "record.not_here"_w);
  SameThingView view;
  view.record = around.record;
  view.other = around.other;
  view.title = words("same.title"_w);
  view.second = record_title(around, around.record);
  const std::vector<FieldValue> a = fields_of(*record), b = fields_of(*other);
  view.sides[0] = side_of(around, *other, b, a);
  view.sides[1] = side_of(around, *record, a, b);
  view.same_head = words("same.both_say"_w);
  for (const FieldValue& field : a)
    if (says(b, field)) view.same.emplace_back(field_name(record->kind, field.key, words), value_text(field, around));
  TRY_ASSIGN(const std::size_t beds, beds_in_common(around.book, around.record, around.other));
  view.ground = record->kind == "block" && record->part.farm != other->part.farm && beds > 0;
  view.one = words("same.is_one"_w);
  view.two = words("same.are_two"_w);
  view.later = words("settle.later"_w);
  if (view.ground) {
    view.meanwhile = words.count("same.ground_meanwhile"_w, static_cast<long long>(beds));
    view.one_why = words.count("same.ground_one_why"_w, static_cast<long long>(beds));
    view.two_why = words("same.ground_two_why"_w);
  } else {
    view.one_why = words("same.is_one_why"_w);
    view.two_why = words("same.are_two_why"_w);
  }
  return view;
}

std::optional<Ask> draw_same_thing(const SameThingView& view, SameThingInput&, const Furniture& furniture) {
  std::optional<Ask> ask;
  Screen screen(furniture.form("same-thing", view.title, view.second));
  {
    ScreenPart main = screen.main();
    Pen column = reading_column(main.pen());
    problem_line(column, furniture.problem);
    for (int i = 0; i < 2; ++i) {
      const IdScope scope("side", i);
      Card card(column, {.id = "side", .head = view.sides[i].head});
      paragraph(card.pen, view.sides[i].by, TextStyle::Label);
      for (const auto& [name, value] : view.sides[i].facts) pair_line(card.pen, name, value);
    }
    if (!view.same.empty()) {
      std::vector<Fact> facts;
      for (const auto& [name, value] : view.same) facts.push_back({name, value});
      fact_line(column, view.same_head, facts);
      column.space(10);
    }
    if (!view.meanwhile.empty()) caution_note(column, view.meanwhile);
    column.space(6);
    if (big_choice(column, {.id = "one", .first = view.one, .second = view.one_why, .icon = Icon::Link}))
      ask = answer(view, true);
    if (big_choice(column, {.id = "two", .first = view.two, .second = view.two_why, .icon = Icon::Differs}))
      ask = answer(view, false);
    main.pen().below(column);
  }
  {
    ScreenPart actions = screen.actions();
    if (button(actions.pen(), {.id = "later", .text = view.later})) ask = Back{};
  }
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
