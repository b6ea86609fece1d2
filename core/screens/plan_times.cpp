#include "base/text.h"
#include "quantity/time_shown.h"
#include "screens/form_text.h"
#include "screens/plan_teller.h"

namespace steep {
namespace {

/// An estimate is never given to the minute.
/// `to` −1 the half hour before, 1 the one after, 0 the nearest.
Moment half_hour(Moment at, int to) {
  constexpr std::int64_t kHalf = 30 * kMinute;
  return Moment{(at.ms + (to < 0 ? 0 : to > 0 ? kHalf - 1 : kHalf / 2)) / kHalf * kHalf};
}

/// The brew as a ribbon that is not started: dashed, on the same axis and sky as those that run.
void say_ribbon(PlanPageView& view, const PlanTeller& tell) {
  const Plan& plan = *tell.sheet.plan;
  const Surroundings& around = tell.around;
  if (!plan.air_on) return;
  view.figure = planned_figure(*plan.air_on, plan.ready, plan.use_by.value_or(plan.spraying_to),
                               tell.sheet.pass.places.farm, around);
  view.start_text = tell.words("plan.start_at"_w, {around.when(*plan.air_on)});
  if (plan.ready) view.ready_text = tell.words("plan.ready_about"_w, {around.when(half_hour(plan.ready->expected, 0))});
}

void say_start(PlanPageView& view, const PlanTeller& tell, const PlanPageInput& input) {
  const Words& words = tell.words;
  const PlanSheet& sheet = tell.sheet;
  view.start_name = words("brew.air_on"_w);
  const bool chosen = sheet.chosen.air_on.has_value(), now = form_has(input.form, "air-now");
  const auto& on = sheet.plan->air_on;
  view.starts = {chosen || !on ? words("plan.as_needed"_w) : tell.around.clock(*on), words("plan.now"_w),
                 chosen && !now ? tell.around.when(*on) : words("plan.other_time"_w)};
  view.start = !chosen ? (on ? 0 : -1) : now ? 1 : 2;
}

/// A line of the plan's times, and what it can be changed by.
struct TimeLines {
  PlanPageView& view;
  const PlanTeller& tell;
  const Words& words = tell.words;
  using Change = std::pair<std::string, std::string>;  ///< What it leads to, and its words.
  Change to_time{"time", words("plan.change_time"_w)}, to_limits{"limits", words("limits.from_plan"_w)};

  std::string when(Moment at) const { return tell.around.when(at); }
  void add(const char* id, WordId name, std::string at, std::string formula, std::string numbers, std::string note,
           std::vector<Change> changes) {
    view.times.push_back({.id = id,
                          .words = words(name),
                          .number = std::move(at),
                          .formula = std::move(formula),
                          .numbers = std::move(numbers),
                          .note = std::move(note),
                          .changes = std::move(changes)});
  }
};

/// From the water to the brew that is ready.
void say_brew_times(TimeLines& lines) {
  const PlanTeller& tell = lines.tell;
  const Words& words = lines.words;
  const Plan& plan = *tell.sheet.plan;
  const auto when = [&](Moment at) { return lines.when(at); };
  if (plan.water_from)
    lines.add(
        "water-from", "plan.water_from"_w, when(*plan.water_from), words("plan.formula_water"_w),
        words("plan.numbers_before"_w,
              {when(*plan.air_on), show_duration(tell.sheet.input->standing.stand, words), when(*plan.water_from)}),
        tell.figure("water-stand"), {{"water", words("plan.change_water"_w)}, lines.to_limits});
  if (plan.air_on) {
    const std::string brewing = show_duration(Duration::from_milliseconds(static_cast<double>(
                                                  (plan.ready ? plan.ready->expected : plan.air_off) - *plan.air_on)),
                                              words);
    lines.add("air-on", "brew.air_on"_w, when(*plan.air_on),
              words(tell.sheet.chosen.air_on ? "plan.formula_air_chosen"_w : "plan.formula_air_on"_w),
              words("plan.numbers_before"_w, {when(plan.air_off), brewing, when(*plan.air_on)}),
              plan.ready && plan.ready->from_own_brews ? words.count("plan.from_own_brews"_w, plan.ready->own_brews)
                                                       : words("plan.from_recipe"_w),
              {{"air-on", words("plan.change_air_on"_w)}});
  }
  if (plan.ready)
    lines.add(
        "ready", "plan.ready"_w,
        words("plan.range"_w, {when(half_hour(plan.ready->earliest, -1)), when(half_hour(plan.ready->latest, 1))}),
        words("plan.formula_ready"_w),
        words("plan.numbers_ready"_w, {when(*plan.air_on),
                                       show_in(unit(tell.around.units.system == System::Metric ? "degC" : "degF"),
                                               plan.ready->mean.si(), tell.around.units, words, 0)
                                           .text(),
                                       when(half_hour(plan.ready->expected, 0))}),
        words("window.senses-decide"_w), {{"temperature", words("plan.change_temperature"_w)}});
}

/// From the air that goes off to the last hour at which the tea may be used.
void say_field_times(TimeLines& lines) {
  const PlanTeller& tell = lines.tell;
  const Words& words = lines.words;
  const Plan& plan = *tell.sheet.plan;
  const PlanInput& input = *tell.sheet.input;
  const auto when = [&](Moment at) { return lines.when(at); };
  lines.add("air-off", "brew.air_off"_w, when(plan.air_off), words("plan.formula_air_off"_w),
            words("plan.numbers_before"_w,
                  {when(plan.spraying_from), show_duration(input.loading, words), when(plan.air_off)}),
            tell.figure("loading-time"), {lines.to_time, lines.to_limits});
  lines.add("first-bed", "plan.first_bed"_w, when(plan.spraying_from), words("plan.formula_first_bed"_w), {}, {},
            {lines.to_time});
  lines.add("last-bed", "plan.last_bed"_w, when(plan.spraying_to), words("plan.formula_last_bed"_w),
            words("plan.numbers_after"_w, {when(plan.spraying_from), std::to_string(plan.loads.loads.size()),
                                           show_duration(input.per_load, words), when(plan.spraying_to)}),
            tell.figure("load-time"), {lines.to_time, lines.to_limits});
  if (plan.use_by)
    lines.add("use-by", "plan.use_by"_w, when(*plan.use_by), words("plan.formula_use_by"_w), {},
              join(std::vector<std::string>{tell.figure("air-off"), tell.figure("brew-age")}, "\n"),
              {lines.to_time, lines.to_limits});
}

}  // namespace

void say_plan_times(PlanPageView& view, const PlanTeller& tell, const PlanPageInput& input) {
  say_start(view, tell, input);
  say_ribbon(view, tell);
  view.times_head = tell.words("plan.times"_w);
  TimeLines lines{view, tell};
  say_brew_times(lines);
  say_field_times(lines);
}

}  // namespace steep
