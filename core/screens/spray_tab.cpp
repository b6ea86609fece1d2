#include "screens/spray_tab.h"

#include "base/text.h"
#include "book/codes.h"
#include "book/things.h"
#include "book/work.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/rows.h"
#include "quantity/time_shown.h"
#include "screens/parts.h"

namespace steep {
namespace {

constexpr int kPastDays = 60;

SprayTabView::Past past_of(const Pass& pass, const Codes& codes, const Surroundings& around) {
  const Words& words = around.words;
  SprayTabView::Past shown;
  shown.pass = pass.id;
  shown.struck = pass.is_struck();
  shown.first = words("spray.pass"_w, {codes.text(pass.id)});
  shown.second =
      show_day(around.zone.local(pass.start.at).date, around.today, words) + ", " + around.clock(pass.start.at);
  std::vector<std::string> names;
  for (const Id& id : pass.people) {
    if (const std::string name = called_name(around.book, id); !name.empty()) names.push_back(name);
  }
  if (!names.empty()) shown.second += " · " + join(names, ", ");
  shown.value = words.count("spray.beds_planned"_w, static_cast<long long>(pass.beds.size()));
  shown.spoken = shown.first + ", " + shown.second + ", " + shown.value;
  return shown;
}

/// Each rig with what it puts on, and since when that is known.
Result<void> say_rigs(SprayTabView& view, const Surroundings& around) {
  const Words& words = around.words;
  view.rigs_head = words("spray.rigs"_w);
  TRY_ASSIGN(const std::vector<Rig>& all, rigs(around.book));
  for (const Rig& rig : all) {
    TRY_ASSIGN(const std::optional<RigCalibration>& last, calibration_in_force(around.book, rig.id));
    std::string detail = words("spray.not_calibrated"_w);
    if (last && last->rate) {
      const Date day = last->date ? *last->date : around.zone.local(last->made.at).date;
      detail = words(last->area == RateArea::Swath ? "spray.calibrated_swath"_w : "spray.calibrated_bed_top"_w,
                     {show(*last->rate, around.units, words), show_short_day(day, around.today, words)});
    }
    view.rigs.push_back({rig.id, rig.name, std::move(detail)});
  }
  return {};
}

}  // namespace

Result<SprayTabView> spray_tab_view(const Surroundings& around, const SprayTabInput&) {
  const Words& words = around.words;
  SprayTabView view;
  view.title = words("app.tab_spray"_w);
  view.second = show_day(around.today, around.today, words);
  view.empty = words("spray.no_pass"_w);
  view.empty_why = words("spray.no_pass_why"_w);
  view.past_head = words("spray.past"_w);
  view.button = words("today.start_pass"_w);
  view.head = words("spray.new_pass"_w);
  view.detail = words("spray.new_pass_why"_w);
  view.links = work_links(words, {"loads", "ratio", "spray-time", "delta-t"});
  if (around.farm.is_nil()) return view;
  TRY_ASSIGN(const Codes& codes, Codes::read(around.book));
  TRY_ASSIGN(view.open_pass, pass_to_go_on(around.book));
  if (view.open_pass) {
    const std::string code = codes.text(*view.open_pass);
    view.head = words("today.pass_open"_w, {code});
    view.detail = words("spray.open_why"_w);
    view.button = words("today.go_on"_w, {code});
  }
  TRY_ASSIGN(const std::vector<Pass>& all,
             passes(around.book, around.farm, around.today + -kPastDays, {}, Struck::Include));
  for (auto pass = all.rbegin(); pass != all.rend(); ++pass) {
    if (view.open_pass != pass->id) view.past.push_back(past_of(*pass, codes, around));
  }
  TRY(say_rigs(view, around));
  return view;
}

namespace {

std::optional<Ask> draw_start(Pen& pen, const SprayTabView& view) {
  Card card(pen, {.id = "pass", .head = view.head, .edge = view.open_pass ? CardEdge::Ink : CardEdge::Grey});
  paragraph_in(card.pen, view.detail, TextStyle::Label, colors().ink2);
  card.pen.space(10);
  if (!button(card.pen, {.id = "go", .text = view.button, .icon = Icon::Spray, .kind = ButtonKind::Primary}))
    return std::nullopt;
  return view.open_pass ? Go{{"spraying", *view.open_pass}} : Go{{"start-pass"}};
}

std::optional<Ask> draw_rigs(Pen& pen, const SprayTabView& view) {
  std::optional<Ask> ask;
  if (view.rigs.empty()) return ask;
  heading(pen, view.rigs_head);
  Card card(pen, {.id = "rigs"});
  for (std::size_t i = 0; i < view.rigs.size(); ++i) {
    const SprayTabView::Rig& rig = view.rigs[i];
    IdScope scope("rig", static_cast<std::int64_t>(i));
    if (list_row(card.pen,
                 {.id = "row", .icon = Icon::Walk, .first = rig.name, .second = rig.detail, .line_above = i > 0}))
      ask = Go{{"calibration", rig.rig}};
  }
  return ask;
}

std::optional<Ask> draw_past(Pen& pen, const SprayTabView& view) {
  std::optional<Ask> ask;
  heading(pen, view.past_head);
  if (view.past.empty()) {
    paragraph(pen, view.empty, TextStyle::Strong);
    paragraph(pen, view.empty_why);
    return ask;
  }
  Card card(pen, {.id = "past"});
  for (std::size_t i = 0; i < view.past.size(); ++i) {
    const SprayTabView::Past& past = view.past[i];
    IdScope scope("past", static_cast<std::int64_t>(i));
    if (list_row(card.pen, {.id = "row",
                            .icon = Icon::Spray,
                            .first = past.first,
                            .second = past.second,
                            .value = past.value,
                            .value_plain = true,
                            .line_above = i > 0,
                            .struck = past.struck,
                            .spoken = past.spoken}))
      ask = Go{{"record", past.pass}};
  }
  return ask;
}

}  // namespace

std::optional<Ask> draw_spray_tab(const SprayTabView& view, SprayTabInput&, const Furniture& furniture) {
  Screen screen(furniture.tab("spray", view.title, view.second));
  ScreenPart main = screen.main();
  std::optional<Ask> ask;
  const auto answer = [&](std::optional<Ask> of_part) {
    if (of_part) ask = std::move(of_part);
  };
  in_two_parts(
      main.pen(),
      [&](Pen& pen) {
        answer(draw_start(pen, view));
        pen.space(6);
        answer(draw_rigs(pen, view));
        pen.space(6);
      },
      [&](Pen& pen) {
        answer(draw_past(pen, view));
        answer(draw_work_links(pen, view.links, {}));
      });
  return ask ? ask : furniture.asked(screen);
}

}  // namespace steep
