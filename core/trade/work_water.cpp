// The calculations 'water' and 'standing'.
#include "trade/water.h"

#include "trade/work_lists.h"

namespace steep {
namespace {

constexpr std::string_view kDisinfectants = "free-chlorine|chloramine";
Disinfectant disinfectant_of(const Value& value) {
  return value.text == "chloramine" ? Disinfectant::Chloramine : Disinfectant::FreeChlorine;
}

// water: grams of a neutralizer

constexpr std::string_view kAgents =
    "ascorbic-acid|sodium-ascorbate|thiosulfate|thiosulfate-pentahydrate|sulfite|bisulfite|metabisulfite";
Neutralizer agent_of(std::string_view word) {
  using enum Neutralizer;
  if (word == "sodium-ascorbate") return SodiumAscorbate;
  if (word == "thiosulfate") return Thiosulfate;
  if (word == "thiosulfate-pentahydrate") return ThiosulfatePentahydrate;
  if (word == "sulfite") return Sulfite;
  if (word == "bisulfite") return Bisulfite;
  if (word == "metabisulfite") return Metabisulfite;
  return AscorbicAcid;
}

constexpr InputSpec kWaterInputs[] = {
    quantity_input("volume", Dimension::Volume, "work-input.water-volume"_w),
    quantity_input("chlorine", Dimension::MassPerVolume, "work-input.chlorine"_w),
    word_input("disinfectant", kDisinfectants, "work-input.disinfectant"_w),
    word_input("agent", kAgents, "work-input.agent"_w).or_standard("ascorbic-acid"),
};
constexpr OutputSpec kWaterOutputs[] = {
    {"chlorine", OutputKind::Fixed, "mg", 3, "work-result.chlorine"_w},
    // On a scale it is grams, however many.
    {"molar-dose", OutputKind::Fixed, "g", 3, "work-result.molar-dose"_w},
    {"molar-dose-high", OutputKind::Fixed, "g", 3, "work-result.molar-dose-high"_w},
    {"field-dose", OutputKind::Fixed, "g", 3, "work-result.field-dose"_w},
    {"ammonia-nitrogen", OutputKind::Quantity, "mg/L", 3, "work-result.ammonia"_w},
};
const extern Calculation kWater;

Result<Answer> run_water(const Inputs& in) {
  const Neutralizer agent = agent_of(in["agent"].text);
  const Disinfectant what = disinfectant_of(in["disinfectant"]);
  const Concentration chlorine = in.get<Concentration>("chlorine");
  const Volume volume = in.get<Volume>("volume");
  TRY_ASSIGN(const NeutralizerDose& dose, neutralizer_dose(agent, what, chlorine, volume));
  Answer answer(kWater);
  answer.quantity("chlorine", chlorine * volume);
  answer.quantity("molar-dose", dose.molar);
  if (dose.molar_high) answer.quantity("molar-dose-high", *dose.molar_high);
  if (dose.field) answer.quantity("field-dose", *dose.field);
  answer.step("chlorine", "m(Cl2) = c · V",
              figure(chlorine.milligrams_per_liter()) + " mg/L × " + figure(volume.liters()) +
                  " L = " + figure((chlorine * volume).milligrams()) + " mg");
  answer.step("molar-dose", "m = m(Cl2) · M / 70.906",
              figure((chlorine * volume).milligrams()) + " mg × " + figure(molar_ratio(agent)) + " = " +
                  figure(dose.molar.grams()) + " g");
  if (dose.field)
    answer.step("field-dose", "AWWA",
                figure((chlorine * volume).milligrams()) + " mg × " + figure(*field_ratio(agent)) + " = " +
                    figure(dose.field->grams()) + " g");
  if (what == Disinfectant::Chloramine) {
    answer.quantity("ammonia-nitrogen", chlorine * kAmmoniaPerChlorine);
    answer.step("ammonia-nitrogen", "NH3-N = c · 14.007 / 70.906",
                figure(chlorine.milligrams_per_liter()) + " × " + figure(kAmmoniaPerChlorine) + " = " +
                    figure((chlorine * kAmmoniaPerChlorine).milligrams_per_liter()) + " mg/L");
    answer.caution("water.chloramine-stays"_w);
  }
  if (dose.molar_high) {
    answer.step("molar-dose-high", "m = 4 · m(Cl2) · M / 70.906",
                "4 × " + figure(dose.molar.grams()) + " g = " + figure(dose.molar_high->grams()) + " g");
    answer.note("water.thiosulfate"_w);
  }
  answer.note("water.test-again"_w);
  return answer;
}

const Calculation kWater{
    "water",
    "water",
    "work.water"_w,
    kWaterInputs,
    kWaterOutputs,
    "molar masses of IUPAC 2007; AWWA field guide on pipeline disinfection, table 7-2 (field dose)",
    "--volume \"50 gal\" --chlorine \"2 mg/L\" --disinfectant free-chlorine",
    run_water};

// standing: hours

constexpr InputSpec kStandingInputs[] = {
    word_input("disinfectant", kDisinfectants, "work-input.disinfectant"_w),
    quantity_input("stood", Dimension::Time, "work-input.stood"_w).or_standard("0 h"),
    quantity_input("aerated", Dimension::Time, "work-input.aerated"_w).or_standard("0 h"),
    quantity_input("stand-rule", Dimension::Time, "work-input.stand-rule"_w).or_standard("24 h"),
    quantity_input("aerate-rule", Dimension::Time, "work-input.aerate-rule"_w).or_standard("12 h"),
    quantity_input("chlorine", Dimension::MassPerVolume, "work-input.chlorine"_w).optional(),
    quantity_input("half-life", Dimension::Time, "work-input.half-life"_w).optional(),
    quantity_input("target", Dimension::MassPerVolume, "work-input.chlorine-target"_w).or_standard("0.1 mg/L"),
};
constexpr OutputSpec kStandingOutputs[] = {
    {"rule-share", OutputKind::Quantity, "%", 0, "work-result.rule-share"_w},
    {"hours-left-standing", OutputKind::Quantity, "h", 1, "work-result.hours-standing"_w},
    {"hours-left-aerating", OutputKind::Quantity, "h", 1, "work-result.hours-aerating"_w},
    {"chlorine-left", OutputKind::Quantity, "mg/L", 4, "work-result.chlorine-left"_w},
    {"hours-to-target", OutputKind::Quantity, "h", 1, "work-result.hours-to-target"_w},
};
const extern Calculation kStanding;

Result<Answer> run_standing(const Inputs& in) {
  const Disinfectant what = disinfectant_of(in["disinfectant"]);
  const StandingRule rule{in.get<Duration>("stand-rule"), in.get<Duration>("aerate-rule")};
  const Duration stood = in.get<Duration>("stood"), aerated = in.get<Duration>("aerated");
  TRY_ASSIGN(const double share, standing_share(what, rule, stood, aerated));
  Answer answer(kStanding);
  const double left = share < 1 ? 1 - share : 0;
  answer.number("rule-share", 100 * share);
  answer.quantity("hours-left-standing", rule.stand * left);
  answer.quantity("hours-left-aerating", rule.aerate * left);
  answer.step("hours-left-standing", "rule · (1 − share)",
              figure(rule.stand.hours()) + " h × " + figure(left) + " = " + figure((rule.stand * left).hours()) + " h");
  answer.step(
      "hours-left-aerating", "rule · (1 − share)",
      figure(rule.aerate.hours()) + " h × " + figure(left) + " = " + figure((rule.aerate * left).hours()) + " h");
  answer.step("rule-share", "stood / rule + aerated / rule",
              figure(stood.hours()) + " / " + figure(rule.stand.hours()) + " + " + figure(aerated.hours()) + " / " +
                  figure(rule.aerate.hours()) + " = " + figure(share));
  const auto chlorine = in.maybe<Concentration>("chlorine");
  const auto half_life = in.maybe<Duration>("half-life");
  if (chlorine && half_life) {
    TRY_ASSIGN(const Concentration after, chlorine_after(what, *chlorine, *half_life, stood + aerated));
    TRY_ASSIGN(const Duration needed, standing_time(what, *chlorine, *half_life, in.get<Concentration>("target")));
    answer.quantity("chlorine-left", after);
    answer.quantity("hours-to-target", needed);
    answer.step("hours-to-target", "t = t½ · log2(C0 / C)",
                figure(half_life->hours()) + " h × log2(" + figure(chlorine->milligrams_per_liter()) + " / " +
                    figure(in.get<Concentration>("target").milligrams_per_liter()) + ") = " + figure(needed.hours()) +
                    " h");
    answer.step("chlorine-left", "C = C0 · 2^(−t / t½)",
                figure(chlorine->milligrams_per_liter()) + " × 2^(−" + figure((stood + aerated).hours()) + " / " +
                    figure(half_life->hours()) + ") = " + figure(after.milligrams_per_liter()) + " mg/L");
  }
  answer.note("water.farm-rule"_w);
  answer.note("water.humic"_w);
  answer.note("water.test-again"_w);
  return answer;
}

const Calculation kStanding{
    "standing",
    "water",
    "work.standing"_w,
    kStandingInputs,
    kStandingOutputs,
    "hours: the farm's rule, common practice, no source; decay: first order with the farm's own half-life",
    "--disinfectant free-chlorine --stood \"10 h\"",
    run_standing};

const Calculation kAll[] = {kWater, kStanding};

}  // namespace

std::span<const Calculation> work_water() { return kAll; }

}  // namespace steep
