// The calculation 'plan'.
#include "base/zone.h"
#include "trade/plan.h"
#include "trade/work_filling.h"
#include "trade/work_lists.h"
#include "trade/work_times.h"

namespace steep {
namespace {

constexpr InputSpec kBedColumns[] = {
    quantity_input("length", Dimension::Length, "work-input.bed-length"_w),
    quantity_input("width", Dimension::Length, "work-input.bed-width"_w),
    plain_input("count", InputKind::Whole, "work-input.bed-count"_w).or_standard("1"),
};
constexpr InputSpec kVesselColumns[] = {
    plain_input("name", InputKind::Text, "work-input.vessel-name"_w),
    quantity_input("volume", Dimension::Volume, "work-input.vessel"_w),
    quantity_input("headroom", Dimension::Volume, "work-input.headroom"_w).or_standard("0 L"),
    quantity_input("air", Dimension::Flow, "work-input.vessel-air"_w).optional(),
};
constexpr InputSpec kLineColumns[] = {
    plain_input("material", InputKind::Text, "work-input.material"_w),
    quantity_input("low", Dimension::Volume, "work-input.amount-low"_w).or_by(Dimension::Mass),
    quantity_input("high", Dimension::Volume, "work-input.amount-high"_w).or_by(Dimension::Mass).optional(),
    quantity_input("in-stock", Dimension::Volume, "work-input.in-stock"_w).or_by(Dimension::Mass).optional(),
};
constexpr InputSpec kTemperatureColumns[] = {
    plain_input("at", InputKind::LocalTime, "work-input.temperature-at"_w),
    quantity_input("temperature", Dimension::Temperature, "work-input.brew-temperature"_w),
};
constexpr InputSpec kInputs[] = {
    row_input("bed", kBedColumns, "work-input.bed"_w).repeated(),
    quantity_input("tea-rate", Dimension::VolumePerArea, "work-input.tea-rate"_w),
    quantity_input("spray-rate", Dimension::VolumePerArea, "work-input.spray-rate"_w),
    quantity_input("tank", Dimension::Volume, "work-input.tank"_w),
    quantity_input("dead-volume", Dimension::Volume, "work-input.dead-volume"_w).or_standard("0 L"),
    quantity_input("reserve", Dimension::Share, "work-input.reserve"_w).or_standard("5 %"),
    row_input("vessel", kVesselColumns, "work-input.plan-vessel"_w).repeated(),
    quantity_input("reference", Dimension::Volume, "work-input.reference"_w).or_standard("5 gal"),
    row_input("line", kLineColumns, "work-input.line"_w).repeated().optional(),
    plain_input("spray-from", InputKind::LocalTime, "work-input.spray-from"_w),
    plain_input("zone", InputKind::Text, "work-input.zone"_w).or_standard("America/New_York"),
    row_input("temperature", kTemperatureColumns, "work-input.temperatures"_w).repeated().optional(),
    quantity_input("brew-time", Dimension::Time, "work-input.recipe-time"_w).or_standard("24 h"),
    quantity_input("brew-temperature", Dimension::Temperature, "work-input.recipe-temperature"_w)
        .or_standard("70 degF"),
    quantity_input("per-load", Dimension::Time, "work-input.per-load"_w).or_standard("45 min"),
    quantity_input("loading", Dimension::Time, "work-input.loading"_w).or_standard("30 min"),
    quantity_input("use-within", Dimension::Time, "work-input.use-within"_w).or_standard("4 h"),
    word_input("water", "free-chlorine|chloramine|none", "work-input.plan-water"_w).or_standard("free-chlorine"),
};
constexpr OutputSpec kOutputs[] = {
    {"area", OutputKind::Quantity, "m2", 1, "work-result.area"_w},
    {"tea", OutputKind::Quantity, "L", 2, "work-result.tea-to-brew"_w},
    {"reserve", OutputKind::Quantity, "L", 2, "work-result.reserve"_w},
    {"spray", OutputKind::Quantity, "L", 2, "work-result.spray-in-all"_w},
    {"water", OutputKind::Quantity, "L", 2, "work-result.water-in-all"_w},
    {"loads", OutputKind::Whole, "", 0, "work-result.loads"_w},
    {"load-*-add-tea", OutputKind::Quantity, "L", 2, "work-result.load-add-tea"_w},
    {"load-*-add-water", OutputKind::Quantity, "L", 2, "work-result.load-add-water"_w},
    {"load-*-last-bed", OutputKind::Whole, "", 0, "work-result.load-last-bed"_w},
    {"load-*-ends-at", OutputKind::Quantity, "ft", 1, "work-result.load-ends-at"_w},
    {"vessel-*-name", OutputKind::Text, "", 0, "work-result.plan-vessel"_w},
    {"vessel-*-fill", OutputKind::Quantity, "L", 2, "work-result.fill"_w},
    {"vessel-*-air-needed", OutputKind::Air, "L/min", 1, "work-result.air-needed"_w},
    {"line-*", OutputKind::Text, "", 0, "work-result.line-written"_w},
    {"water-from", OutputKind::LocalTime, "", 0, "work-result.water-from"_w},
    {"air-on", OutputKind::LocalTime, "", 0, "work-result.air-on"_w},
    {"ready-earliest", OutputKind::LocalTime, "", 0, "work-result.ready-earliest"_w},
    {"ready-latest", OutputKind::LocalTime, "", 0, "work-result.ready-latest"_w},
    {"air-off", OutputKind::LocalTime, "", 0, "work-result.air-off"_w},
    {"spray-from", OutputKind::LocalTime, "", 0, "work-result.spray-from"_w},
    {"spray-to", OutputKind::LocalTime, "", 0, "work-result.spray-to"_w},
    {"use-by", OutputKind::LocalTime, "", 0, "work-result.use-by"_w},
    {"doubts", OutputKind::Whole, "", 0, "work-result.doubts"_w},
};
const extern Calculation kPlan;

Result<PlanInput> plan_input(const Inputs& in, const Zone& zone) {
  PlanInput input;
  for (const Value* row : in.all("bed")) {
    const Length length = row->columns[0]->as<Length>();
    const double count = row->columns[2]->number;
    if (!(count >= 1 && count <= 10000)) return refuse(Trouble::BadInput, "loads.bed-count"_w, {row->text}, "bed");
    for (int i = 0; i < static_cast<int>(count); ++i)
      input.spray.beds.push_back({{Length{}, length}, length * row->columns[1]->as<Length>()});
  }
  input.spray.tea_rate = in.get<VolumePerArea>("tea-rate");
  input.spray.spray_rate = in.get<VolumePerArea>("spray-rate");
  input.spray.tank = in.get<Volume>("tank");
  input.spray.dead = in.get<Volume>("dead-volume");
  input.reserve = in.get<Share>("reserve");
  for (const Value* row : in.all("vessel"))
    input.vessels.push_back({row->columns[0]->text, row->columns[1]->as<Volume>(), row->columns[2]->as<Volume>(),
                             row->columns[3] ? std::optional(row->columns[3]->as<Flow>()) : std::nullopt});
  for (const Value* row : in.all("line")) {
    const Value &low = *row->columns[1], &high = row->columns[2] ? *row->columns[2] : low;
    const bool one_kind =
        low.dimension() == high.dimension() && (!row->columns[3] || row->columns[3]->dimension() == low.dimension());
    if (!one_kind) return refuse(Trouble::BadInput, "recipe.mixed-kinds"_w, {row->columns[0]->text}, "line");
    input.recipe.push_back({row->columns[0]->text,
                            in.get<Volume>("reference"),
                            {low.number, high.number},
                            {},
                            row->columns[3] ? std::optional(row->columns[3]->number) : std::nullopt});
  }
  TRY_ASSIGN(input.spraying_from, moment_of(zone, in["spray-from"], "spray-from"));
  for (const Value* row : in.all("temperature")) {
    TRY_ASSIGN(const Moment at, moment_of(zone, *row->columns[0], "temperature"));
    input.temperatures.push_back({at, row->columns[1]->as<Temperature>()});
  }
  input.pace->recipe_time = in.get<Duration>("brew-time");
  input.pace->recipe_temperature = in.get<Temperature>("brew-temperature");
  input.per_load = in.get<Duration>("per-load");
  input.loading = in.get<Duration>("loading");
  input.use_within = in.get<Duration>("use-within");
  input.is_chlorinated = in["water"].text != "none";
  input.disinfectant = in["water"].text == "chloramine" ? Disinfectant::Chloramine : Disinfectant::FreeChlorine;
  return input;
}

void answer_times(Answer& answer, const Plan& plan, const Zone& zone) {
  if (plan.water_from) answer.text("water-from", local_text(zone, *plan.water_from));
  if (plan.air_on) answer.text("air-on", local_text(zone, *plan.air_on));
  if (plan.ready) {
    answer.text("ready-earliest", local_text(zone, plan.ready->earliest));
    answer.text("ready-latest", local_text(zone, plan.ready->latest));
  }
  answer.text("air-off", local_text(zone, plan.air_off));
  answer.text("spray-from", local_text(zone, plan.spraying_from));
  answer.text("spray-to", local_text(zone, plan.spraying_to));
  if (plan.use_by) answer.text("use-by", local_text(zone, *plan.use_by));
}

void explain_amounts(Answer& answer, const PlanInput& input, const Plan& plan) {
  const LoadPlan& loads = plan.loads;
  const std::string acres = figure(loads.area.acres()) + " acre", dead = gallons(input.spray.dead);
  const std::string in_loads = gallons(loads.total.tea), reserve = figure(input.reserve.percent()) + " %";
  answer.step("area", "Σ length · width",
              std::to_string(input.spray.beds.size()) + " → " + figure(loads.area.square_feet()) + " ft2 = " + acres);
  answer.step("tea", "tea = tea rate · area · (1 + reserve)",
              figure(input.spray.tea_rate.gallons_per_acre()) + " gal/acre × " + acres + " = " +
                  gallons(loads.on_beds.tea) + " gal; + " + gallons(loads.left.tea) + " gal, + " + reserve + " → " +
                  gallons(plan.tea) + " gal");
  answer.step("reserve", "reserve · tea in the loads",
              reserve + " × " + in_loads + " = " + gallons(plan.reserve) + " gal");
  answer.step("spray", "spray = spray rate · area + dead volume",
              figure(input.spray.spray_rate.gallons_per_acre()) + " gal/acre × " + acres + " + " + dead + " = " +
                  gallons(loads.total.spray()) + " gal");
  answer.step("water", "water = spray − tea",
              gallons(loads.total.spray()) + " − " + in_loads + " = " + gallons(loads.total.water) + " gal");
  answer.step("loads", "loads = spray / (tank − dead volume)",
              gallons(loads.on_beds.spray()) + " / (" + gallons(input.spray.tank) + " − " + dead + ") → " +
                  std::to_string(loads.loads.size()));
  for (std::size_t i = 0; i < loads.loads.size(); ++i)
    explain_filling(answer, input.spray, loads, static_cast<int>(i) + 1);
  int number = 0;
  for (const PlannedVessel& vessel : plan.vessels) {
    const std::string fill = gallons(vessel.fill) + " gal";
    answer.step("vessel-*-name vessel-*-fill", "the fewest vessels, the smallest that does", fill, ++number);
    if (vessel.air_needed)
      answer.step("vessel-*-air-needed", "Q = target · V",
                  figure(input.air_target.liters_per_minute_per_gallon()) + " L/min/gal × " + fill + " = " +
                      figure(vessel.air_needed->liters_per_minute()) + " L/min",
                  number);
  }
  number = 0;
  for (const PlanLine& line : input.recipe)
    answer.step(
        "line-*", "amount · fill / reference",
        gallons(plan.brewed) + " / " + gallons(line.reference) + " gal = " + figure(plan.brewed / line.reference),
        ++number);
}

void explain_times(Answer& answer, const PlanInput& input, const Plan& plan, const Zone& zone) {
  const auto at = [&](Moment moment) { return local_text(zone, moment); };
  const auto before = [&](Moment moment, Duration time, Moment result) {
    return at(moment) + " − " + figure(time.hours()) + " h = " + at(result);
  };
  if (plan.water_from)
    answer.step("water-from", "air on − standing", before(*plan.air_on, input.standing.stand, *plan.water_from));
  if (plan.ready) {
    const auto brewing = Duration::from_milliseconds(static_cast<double>(plan.ready->expected - *plan.air_on));
    answer.step("air-on", "air off − brewing", before(plan.air_off, brewing, *plan.air_on));
    answer.step("ready-earliest ready-latest", "∫ Q10^((T − Tref) / 10) / h dt = 1 ± spread",
                "T = " + figure(plan.ready->mean.celsius(), 4) + " °C → " + figure(brewing.hours(), 4) + " h");
  }
  answer.step("air-off", "first bed − loading", before(plan.spraying_from, input.loading, plan.air_off));
  answer.step("spray-from", "first bed", at(plan.spraying_from));
  answer.step("spray-to", "first bed + loads · time for a load",
              at(plan.spraying_from) + " + " + std::to_string(plan.loads.loads.size()) + " × " +
                  figure(input.per_load.minutes()) + " min = " + at(plan.spraying_to));
  if (plan.use_by && input.use_within)
    answer.step("use-by", "air off + time off air",
                at(plan.air_off) + " + " + figure(input.use_within->hours()) + " h = " + at(*plan.use_by));
  answer.step("doubts", "n", std::to_string(plan.doubts.size()));
}

Result<Answer> run_plan(const Inputs& in) {
  TRY_ASSIGN(const Zone& zone, Zone::from_name(in["zone"].text));
  TRY_ASSIGN(const PlanInput& input, plan_input(in, zone));
  TRY_ASSIGN(const Plan& plan, make_plan(input, zone));
  Answer answer(kPlan);
  answer.quantity("area", plan.loads.area);
  answer.quantity("tea", plan.tea);
  answer.quantity("reserve", plan.reserve);
  answer.quantity("spray", plan.loads.total.spray());
  answer.quantity("water", plan.loads.total.water);
  answer.number("loads", static_cast<double>(plan.loads.loads.size()));
  int number = 0;
  for (const LoadPlan::Load& load : plan.loads.loads) {
    ++number;
    answer.quantity("load-*-add-tea", load.to_add.tea, number);
    answer.quantity("load-*-add-water", load.to_add.water, number);
    answer.number("load-*-last-bed", static_cast<double>(load.last_bed) + 1, number);
    answer.quantity("load-*-ends-at", load.ends_at, number);
  }
  number = 0;
  for (const PlannedVessel& vessel : plan.vessels) {
    ++number;
    answer.text("vessel-*-name", vessel.key, number);
    answer.quantity("vessel-*-fill", vessel.fill, number);
    if (vessel.air_needed) answer.quantity("vessel-*-air-needed", *vessel.air_needed, number);
  }
  const auto lines = in.all("line");
  for (std::size_t i = 0; i < plan.lines.size(); ++i) {
    const Unit& written = *lines[i]->columns[1]->written->unit;
    const double low = amount_in(plan.lines[i].amount.low, written),
                 high = amount_in(plan.lines[i].amount.high, written);
    answer.amount("line-*", plan.lines[i].key, {low, high, &written},
                  figure(low) + (low == high ? "" : "–" + figure(high)) + " " + std::string(written.word),
                  static_cast<int>(i) + 1);
  }
  answer_times(answer, plan, zone);
  answer.number("doubts", static_cast<double>(plan.doubts.size()));
  explain_amounts(answer, input, plan);
  explain_times(answer, input, plan, zone);
  for (const Doubt& doubt : plan.doubts) answer.notes.push_back({doubt.word, doubt.values, Remark::Tone::Caution, {}});
  answer.note("window.senses-decide"_w);
  return answer;
}

const Calculation kPlan{
    "plan",
    "plan",
    "work.plan"_w,
    kInputs,
    kOutputs,
    "the other calculations; times and reserve are the farm's",
    "--bed \"100 ft; 30 in; 44\" --tea-rate \"20 gal/acre\" --spray-rate \"45 gal/acre\" --tank \"4 gal\" "
    "--vessel \"Brewer A; 15 gal; 2 gal; 20 L/min\" --line \"compost; 3 cup; 5 cup; 20 cup\" --line \"kelp; 1 tbsp\" "
    "--spray-from \"2026-06-04 06:30\" --temperature \"2026-06-03 06:00; 66 F\"",
    run_plan};
const Calculation kAll[] = {kPlan};

}  // namespace

std::span<const Calculation> work_plan() { return kAll; }

}  // namespace steep
