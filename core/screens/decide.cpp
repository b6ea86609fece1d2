#include "screens/decide.h"

#include <algorithm>

#include "base/text.h"
#include "book/called.h"
#include "book/given_up.h"
#include "book/record_commands.h"
#include "book/settle_commands.h"
#include "book/strike.h"
#include "book/things.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/field.h"
#include "look/frame.h"
#include "look/hold.h"
#include "screens/fact_text.h"
#include "screens/parts.h"

namespace steep {
namespace {

DecideView::Part part_of(const Surroundings& around, std::string head, const Head& of, std::string text) {
  return {
      std::move(head),
      author_text(around, Moment{of.wall}, person_name(around.book, of.person), lane_label(around.book, of.ref.lane)),
      std::move(text)};
}

/// Who struck it, when, and the reason.
void add_strike(DecideView& view, const Surroundings& around, const Record& record, std::string head) {
  if (const Head* strike = strike_of(record))
    view.parts.push_back(part_of(around, std::move(head), *strike, reason_text(record.struck, around.words)));
}

void fill_unaware(DecideView& view, const Surroundings& around, const Record& record,
                  const std::vector<std::string>& groups) {
  const Words& words = around.words;
  view.second = words("decide.unaware"_w);
  add_strike(view, around, record, words("decide.struck"_w));
  for (const Group& group : record.groups) {
    if (std::find(groups.begin(), groups.end(), group.key) == groups.end()) continue;
    for (const Head& head : group.heads)
      view.parts.push_back(part_of(around, words("decide.edited"_w, {group_name(record.kind, group.key, words)}), head,
                                   fact_text(head.fields, around)));
  }
  view.meanwhile = words("decide.unaware_meanwhile"_w);
  view.ends[0] = words("decide.stays_struck"_w);
  view.end_whys[0] = words("decide.stays_struck_why"_w);
  view.ends[1] = words("decide.counts"_w);
  view.end_whys[1] = words("decide.counts_why"_w);
}

/// Struck as the same work as others, of which none stands.
Result<void> fill_given_up(DecideView& view, const Surroundings& around, const Record& record,
                           const std::vector<Id>& others) {
  const Words& words = around.words;
  view.crossing = DecideView::Crossing::GivenUp;
  view.second = words("decide.given_up"_w);
  add_strike(view, around, record, words("decide.struck"_w));
  for (const Id& id : others) {
    TRY_ASSIGN(const std::optional<Record>& other, around.book.record(id));
    if (other) add_strike(view, around, *other, words("decide.other_struck"_w, {record_title(around, id)}));
  }
  view.meanwhile = words("decide.unaware_meanwhile"_w);
  view.ends[0] = words("decide.neither"_w);
  view.end_whys[0] = words("decide.neither_why"_w);
  view.ends[1] = words("decide.counts"_w);
  view.end_whys[1] = words("decide.given_up_counts_why"_w);
  return {};
}

Result<void> fill_late(DecideView& view, const Surroundings& around, const Record& record, const Id& parent_id) {
  const Words& words = around.words;
  view.crossing = DecideView::Crossing::LateChild;
  view.second = words("decide.late"_w);
  TRY_ASSIGN(const std::optional<Record>& parent, around.book.record(parent_id));
  if (parent) add_strike(view, around, *parent, words("decide.parent_struck"_w, {record_title(around, parent_id)}));
  std::vector<FieldValue> facts;
  for (const Group& group : record.groups)
    for (const FieldValue& field : group.heads.front().fields) facts.push_back(field);
  view.parts.push_back({words("decide.came_late"_w),
                        author_text(around, record.made.at, person_name(around.book, record.made_by),
                                    lane_label(around.book, record.made_on)),
                        fact_text(facts, around)});
  view.meanwhile = words("decide.late_meanwhile"_w);
  view.ends[0] = words("decide.strike_too"_w);
  view.end_whys[0] = words("decide.strike_too_why"_w);
  view.ends[1] = words("decide.stays"_w);
  view.end_whys[1] = words("decide.stays_why"_w);
  return {};
}

Do end_with(const DecideView& view, int end, const std::string& why) {
  Do ask;
  ask.what = [record = view.record, crossing = view.crossing, end, why](Book& book,
                                                                        const Going& going) -> Result<Outcome> {
    switch (crossing) {
      case DecideView::Crossing::LateChild:
        return end == 0 ? strike(book, record, why, going) : keep_child(book, record, why, going);
      case DecideView::Crossing::GivenUp:
        return end == 0 ? leave_given_up(book, record, why, going) : count_given_up(book, record, why, going);
      case DecideView::Crossing::Edited: break;
    }
    return end == 0 ? stay_struck(book, record, why, going) : restore(book, record, true, why, going);
  };
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Back{}; };
  return ask;
}

}  // namespace

Result<DecideView> decide_view(const Surroundings& around, const DecideInput&) {
  const Words& words = around.words;
  TRY_ASSIGN(const std::optional<Record>& record, around.book.record(around.record));
  if (!record) return refuse(Trouble::NotFound, "record.not_here"_w);
  DecideView view;
  view.record = around.record;
  view.title = record_title(around, around.record);
  view.reason_label = words("settle.reason"_w);
  view.why_not = words("record.reason_first"_w);
  view.later = words("settle.later"_w);
  view.nothing = words("decide.nothing"_w);
  TRY_ASSIGN(const std::vector<Review>& reviews, around.book.reviews());
  std::vector<std::string> unaware;
  std::optional<Id> parent;
  for (const Review& review : reviews) {
    if (review.record != around.record) continue;
    if (review.why == "review.edited_unaware"_w) unaware.push_back(review.group);
    if (review.why == "review.late_child"_w && !review.values.empty()) parent = Id::parse(review.values.front());
  }
  TRY_ASSIGN(const auto& given_up, given_up_for_none(around.book));
  if (!unaware.empty())
    fill_unaware(view, around, *record, unaware);
  else if (const auto found = given_up.find(around.record); found != given_up.end())
    TRY(fill_given_up(view, around, *record, found->second));
  else if (parent)
    TRY(fill_late(view, around, *record, *parent));
  return view;
}

std::optional<Ask> draw_decide(const DecideView& view, DecideInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  Screen screen(furniture.form("decide", view.title, view.second));
  {
    ScreenPart main = screen.main();
    Pen column = reading_column(main.pen());
    problem_line(column, furniture.problem);
    if (view.parts.empty()) paragraph(column, view.nothing);
    for (std::size_t i = 0; i < view.parts.size(); ++i) {
      const IdScope scope("part", static_cast<std::int64_t>(i));
      Card card(column, {.id = "part", .head = view.parts[i].head});
      paragraph(card.pen, view.parts[i].by, TextStyle::Label);
      paragraph(card.pen, view.parts[i].text);
    }
    if (!view.parts.empty()) {
      hold_note(column, {.text = view.meanwhile});
      column.space(10);
      text_field(column, {.id = "reason", .label = view.reason_label}, input.reason);
      column.space(10);
      const bool ready = !trim(input.reason).empty();
      for (int end = 0; end < 2; ++end) {
        const IdScope scope("end", end);
        if (big_choice(column, {.id = "end",
                                .first = view.ends[end],
                                .second = ready ? view.end_whys[end] : view.why_not,
                                .icon = end == 0 ? Icon::Strike : Icon::Undo,
                                .enabled = ready}))
          ask = end_with(view, end, input.reason);
      }
    }
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
