// The calculations 'compost-mix' and 'compost-heat'.
#include "trade/compost_heat.h"
#include "trade/compost_mix.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

// compost-mix

constexpr InputSpec kMaterialColumns[] = {
    quantity_input("mass", Dimension::Mass, "work-input.feedstock-mass"_w),
    quantity_input("moisture", Dimension::Share, "work-input.feedstock-moisture"_w),
    quantity_input("carbon", Dimension::Share, "work-input.feedstock-carbon"_w).optional(),
    quantity_input("nitrogen", Dimension::Share, "work-input.feedstock-nitrogen"_w).optional(),
};
constexpr InputSpec kMixInputs[] = {
    row_input("material", kMaterialColumns, "work-input.feedstock"_w).repeated(),
    quantity_input("moisture-goal", Dimension::Share, "work-input.moisture-goal"_w).optional(),
};
constexpr OutputSpec kMixOutputs[] = {
    {"mass", OutputKind::Quantity, "kg", 2, "work-result.mix-mass"_w},
    {"moisture", OutputKind::Quantity, "%", 1, "work-result.mix-moisture"_w},
    {"carbon-to-nitrogen", OutputKind::Number, "", 1, "work-result.mix-ratio"_w},
    {"water-to-add", OutputKind::Quantity, "L", 1, "work-result.water-to-add"_w},
};
const extern Calculation kMix;

Result<Answer> run_mix(const Inputs& in) {
  std::vector<Feedstock> materials;
  std::string sum, masses, waters;
  for (const Value* row : in.all("material")) {
    const auto share = [&](std::size_t i) {
      return row->columns[i] ? std::optional(row->columns[i]->as<Share>()) : std::nullopt;
    };
    materials.push_back({row->columns[0]->as<Mass>(), row->columns[1]->as<Share>(), share(2), share(3)});
    const std::string kg = figure(materials.back().mass.kilograms()), wet = figure(materials.back().moisture.ratio());
    const std::string_view plus = sum.empty() ? "" : " + ";
    sum.append(plus).append(kg + "·(1 − " + wet + ")");
    masses.append(plus).append(kg);
    waters.append(plus).append(kg + "·" + wet);
  }
  TRY_ASSIGN(const CompostMix& mix, compost_mix(materials));
  Answer answer(kMix);
  answer.quantity("mass", mix.mass);
  answer.quantity("moisture", mix.moisture);
  if (mix.carbon_to_nitrogen)
    answer.number("carbon-to-nitrogen", *mix.carbon_to_nitrogen);
  else
    answer.note("compost.no-ratio"_w);
  answer.step("mass", "Q = Σ Q", masses + " = " + figure(mix.mass.kilograms()) + " kg");
  answer.step("moisture", "G = Σ Q M / Σ Q",
              "(" + waters + ") / " + figure(mix.mass.kilograms()) + " = " + figure(mix.moisture.percent()) + " %");
  answer.step("carbon-to-nitrogen", "R = Σ Q(1 − M)C / Σ Q(1 − M)N",
              sum + (mix.carbon_to_nitrogen ? " → " + figure(*mix.carbon_to_nitrogen) : ""));
  if (const auto goal = in.maybe<Share>("moisture-goal")) {
    TRY_ASSIGN(const Volume water, water_to_reach_moisture(mix, *goal));
    answer.quantity("water-to-add", water);
    answer.step("water-to-add", "W = Q (g − G) / (1 − g)",
                figure(mix.mass.kilograms()) + " × (" + figure(goal->ratio()) + " − " + figure(mix.moisture.ratio()) +
                    ") / (1 − " + figure(goal->ratio()) + ") = " + figure(water.liters()) + " L");
  }
  return answer;
}

const Calculation kMix{
    "compost-mix",
    "compost",
    "work.compost-mix"_w,
    kMixInputs,
    kMixOutputs,
    "Cornell Composting, calculations of moisture and C:N (Richard & Trautmann)",
    "--material \"50 lb; 0 %; 40 %; 1 %\" --material \"10 lb; 0 %; 10 %; 1 %\" --material \"2 lb; 0 %; 25 %; 1 %\"",
    run_mix};

// compost-heat

constexpr InputSpec kReadingColumns[] = {
    plain_input("day", InputKind::Date, "work-input.reading-day"_w),
    quantity_input("temperature", Dimension::Temperature, "work-input.pile-temperature"_w),
};
constexpr InputSpec kHeatInputs[] = {
    row_input("reading", kReadingColumns, "work-input.pile-reading"_w).repeated(),
    plain_input("turned", InputKind::Date, "work-input.turned"_w).repeated().optional(),
    plain_input("ratio", InputKind::Number, "work-input.start-ratio"_w).optional(),
};
constexpr OutputSpec kHeatOutputs[] = {
    {"rule-*-name", OutputKind::Text, "", 0, "work-result.heat-rule"_w},
    {"rule-*-days", OutputKind::Whole, "", 0, "work-result.heat-days"_w},
    {"rule-*-longest-run", OutputKind::Whole, "", 0, "work-result.heat-run"_w},
    {"rule-*-turnings", OutputKind::Whole, "", 0, "work-result.heat-turnings"_w},
    {"rule-*-days-short", OutputKind::Whole, "", 0, "work-result.heat-days-short"_w},
    {"rule-*-turnings-short", OutputKind::Whole, "", 0, "work-result.heat-turnings-short"_w},
    {"rule-*-record", OutputKind::Word, "", 0, "work-result.heat-record"_w},
};
const extern Calculation kHeat;

void explain(Answer& answer, const HeatRule& rule, const HeatRecord& record, int number) {
  const std::string section(rule.section);
  const auto of = [](int found, int asked) { return std::to_string(found) + " / " + std::to_string(asked); };
  const std::string days = of(record.days, rule.days) + " d", turned = of(record.turnings, rule.turnings) + " turned";
  answer.step("rule-*-name rule-*-record", section, days + ", " + turned, number);
  answer.step("rule-*-days rule-*-days-short", section, days, number);
  answer.step("rule-*-longest-run", section, std::to_string(record.longest_run) + " d", number);
  answer.step("rule-*-turnings rule-*-turnings-short", section, turned, number);
}

Result<Answer> run_heat(const Inputs& in) {
  std::vector<HeatReading> readings;
  for (const Value* row : in.all("reading")) {
    const Temperature at = row->columns[1]->as<Temperature>();
    if (!(at.celsius() >= -40 && at.celsius() <= 100))
      return refuse(Trouble::OutOfRange, "compost.heat-range"_w, {}, "reading");
    readings.push_back({row->columns[0]->date, at});
  }
  std::vector<Date> turnings;
  for (const Value* day : in.all("turned")) turnings.push_back(day->date);
  const Value* ratio = in.find("ratio");
  Answer answer(kHeat);
  int number = 0;
  for (const HeatRule& rule : published_heat_rules()) {
    ++number;
    const HeatRecord record =
        heat_record(readings, turnings, rule, ratio ? std::optional<double>(ratio->number) : std::nullopt);
    answer.text("rule-*-name", std::string(rule.section), number);
    answer.number("rule-*-days", record.days, number);
    answer.number("rule-*-longest-run", record.longest_run, number);
    answer.number("rule-*-turnings", record.turnings, number);
    answer.number("rule-*-days-short", record.days_short, number);
    answer.number("rule-*-turnings-short", record.turnings_short, number);
    answer.text("rule-*-record", record.shows_all() ? "numbers-shown" : "numbers-not-shown", number);
    explain(answer, rule, record, number);
  }
  answer.note("compost.rules-apart"_w);
  answer.note("compost.curing"_w);
  return answer;
}

const Calculation kHeat{"compost-heat",
                        "compost",
                        "work.compost-heat"_w,
                        kHeatInputs,
                        kHeatOutputs,
                        "7 CFR 205.203(c)(2) as of 2026-06; NOP 5021 (2011); 21 CFR 112.54(b) (from memory)",
                        "--reading \"2026-05-01; 134 F\" --reading \"2026-05-02; 141 F\" --reading \"2026-05-03; 148 "
                        "F\" --turned 2026-05-02",
                        run_heat};

const Calculation kAll[] = {kMix, kHeat};

}  // namespace

std::span<const Calculation> work_compost() { return kAll; }

}  // namespace steep
