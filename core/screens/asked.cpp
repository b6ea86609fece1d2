#include "screens/asked.h"

#include "base/text.h"
#include "book/things.h"
#include "book/told.h"
#include "look/button.h"
#include "look/choice.h"
#include "look/field.h"

namespace steep {

std::string first_name(const Surroundings& around, const Id& person) {
  const std::string name = called_name(around.book, person);
  return name.empty() ? around.words("asking.somebody"_w) : name;
}

std::string asked_text(const Surroundings& around, const AskedFact& ask) {
  std::vector<std::string> facts;
  for (const std::string& group : ask.groups) facts.push_back(group_name(ask.kind, group, around.words));
  return join(facts, ", ") + ": " + (ask.text.empty() ? around.words("asking.which"_w) : ask.text);
}

Result<AskingView> asking_view(const Surroundings& around, const Id& record) {
  const Words& words = around.words;
  AskingView view;
  view.open = words("asking.open"_w);
  view.head = words("asking.head"_w);
  view.question_label = words("asking.question"_w);
  view.why_not = words("asking.nobody"_w);
  TRY_ASSIGN(const std::vector<AskedFact> asks, open_asks(around.book));
  for (const AskedFact& ask : asks)
    if (ask.record == record)
      view.asked.push_back(words("asking.asks"_w, {first_name(around, ask.by), first_name(around, ask.person),
                                                   around.when(ask.at), asked_text(around, ask)}));
  TRY_ASSIGN(const std::vector<Person> all, people(around.book));
  for (const Person& person : all) {
    if (person.id == around.person) continue;
    const std::string name = first_name(around, person.id);
    view.people.emplace_back(person.id, name);
    view.go.push_back(words("asking.go"_w, {name}));
  }
  return view;
}

std::optional<Ask> draw_asking(Pen& pen, const AskingView& view, const Id& record, AskingInput& input) {
  for (const std::string& one : view.asked) paragraph(pen, one, TextStyle::Label);
  if (view.people.empty()) return std::nullopt;
  if (!input.open) {
    if (button(pen, {.id = "ask-somebody", .text = view.open, .icon = Icon::Question})) input.open = true;
    return std::nullopt;
  }
  paragraph(pen, view.head, TextStyle::Label);
  std::vector<Chip> names;
  for (std::size_t i = 0; i < view.people.size(); ++i)
    names.push_back({.text = view.people[i].second, .on = input.person == static_cast<int>(i)});
  if (const int i = chips(pen, "ask-person", names); i >= 0) input.person = i;
  text_field(pen, {.id = "question", .label = view.question_label}, input.question);
  const bool chosen = input.person >= 0 && input.person < static_cast<int>(view.people.size());
  const auto at = static_cast<std::size_t>(chosen ? input.person : 0);
  if (!button(pen, {.id = "ask",
                    .text = chosen ? view.go[at] : view.open,
                    .icon = Icon::Question,
                    .enabled = chosen,
                    .why_not = view.why_not}))
    return std::nullopt;
  Do ask;
  ask.what = [record, person = view.people[at].first, text = input.question](Book& book, const Going& going) {
    return ask_person(book, record, {}, person, text, going);
  };
  input = {};
  return ask;
}

}  // namespace steep
