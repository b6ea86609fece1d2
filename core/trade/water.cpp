#include "trade/water.h"

#include <cmath>

namespace steep {
namespace {

// Atomic weights, IUPAC 2007, g/mol.
constexpr double kH = 1.00794, kC = 12.0107, kN = 14.0067, kO = 15.9994, kNa = 22.98976928, kS = 32.065, kCl = 35.453;
constexpr double kChlorineGas = 2 * kCl;
constexpr double kAscorbicAcid = 6 * kC + 8 * kH + 6 * kO;
constexpr double kAscorbate = 6 * kC + 7 * kH + kNa + 6 * kO;
constexpr double kThiosulfate = 2 * kNa + 2 * kS + 3 * kO;
constexpr double kPentahydrate = kThiosulfate + 5 * (2 * kH + kO);
constexpr double kSulfite = 2 * kNa + kS + 3 * kO;
constexpr double kBisulfite = kNa + kH + kS + 3 * kO;
constexpr double kMetabisulfite = 2 * kNa + 2 * kS + 5 * kO;
static_assert(kAmmoniaPerChlorine == kN / kChlorineGas);

bool works_on_chloramine(Neutralizer agent) {
  return agent == Neutralizer::AscorbicAcid || agent == Neutralizer::SodiumAscorbate;
}

auto never_for_chloramine() { return refuse(Trouble::Unsupported, "water.chloramine-stays"_w, {}, "disinfectant"); }

}  // namespace

double molar_ratio(Neutralizer agent) {
  switch (agent) {
    case Neutralizer::AscorbicAcid: return kAscorbicAcid / kChlorineGas;
    case Neutralizer::SodiumAscorbate: return kAscorbate / kChlorineGas;
    case Neutralizer::Thiosulfate: return kThiosulfate / 4 / kChlorineGas;
    case Neutralizer::ThiosulfatePentahydrate: return kPentahydrate / 4 / kChlorineGas;
    case Neutralizer::Sulfite: return kSulfite / kChlorineGas;
    case Neutralizer::Bisulfite: return kBisulfite / kChlorineGas;
    case Neutralizer::Metabisulfite: return kMetabisulfite / 2 / kChlorineGas;
  }
  return 0;
}

std::optional<double> field_ratio(Neutralizer agent) {
  switch (agent) {  // AWWA field guide, table 7-2.
    case Neutralizer::AscorbicAcid: return 2.5;
    case Neutralizer::SodiumAscorbate: return 2.8;
    case Neutralizer::Thiosulfate: return 1.9;
    case Neutralizer::ThiosulfatePentahydrate: return std::nullopt;
    case Neutralizer::Sulfite: return 1.96;
    case Neutralizer::Bisulfite: return 1.61;
    case Neutralizer::Metabisulfite: return 1.47;
  }
  return std::nullopt;
}

Result<NeutralizerDose> neutralizer_dose(Neutralizer agent, Disinfectant what, Concentration chlorine, Volume water) {
  const double mg_L = chlorine.milligrams_per_liter();
  if (!(mg_L >= 0) || mg_L > 50) return refuse(Trouble::OutOfRange, "water.chlorine"_w, {}, "chlorine");
  if (!(water.si() > 0) || !std::isfinite(water.si()))
    return refuse(Trouble::OutOfRange, "water.volume"_w, {}, "volume");
  if (what == Disinfectant::Chloramine && !works_on_chloramine(agent))
    return refuse(Trouble::Unsupported, "water.no-chloramine-reaction"_w, {}, "agent");
  const Mass as_chlorine = chlorine * water;
  NeutralizerDose dose;
  dose.molar = as_chlorine * molar_ratio(agent);
  if (agent == Neutralizer::Thiosulfate || agent == Neutralizer::ThiosulfatePentahydrate)
    dose.molar_high = dose.molar * 4;
  if (const auto ratio = field_ratio(agent)) dose.field = as_chlorine * *ratio;
  return dose;
}

Result<Concentration> chlorine_after(Disinfectant what, Concentration start, Duration half_life, Duration standing) {
  if (what == Disinfectant::Chloramine) return never_for_chloramine();
  if (!(half_life.si() > 0) || !(standing.si() >= 0))
    return refuse(Trouble::OutOfRange, "water.half-life"_w, {}, "half-life");
  if (!(start.si() >= 0)) return refuse(Trouble::OutOfRange, "water.chlorine"_w, {}, "chlorine");
  return start * std::exp2(-(standing / half_life));
}

Result<Duration> standing_time(Disinfectant what, Concentration start, Duration half_life, Concentration target) {
  if (what == Disinfectant::Chloramine) return never_for_chloramine();
  if (!(half_life.si() > 0)) return refuse(Trouble::OutOfRange, "water.half-life"_w, {}, "half-life");
  if (!(target.si() > 0)) return refuse(Trouble::BadInput, "water.target"_w, {}, "target");
  if (start <= target) return Duration{};
  return half_life * std::log2(start / target);
}

Result<double> standing_share(Disinfectant what, const StandingRule& rule, Duration stood, Duration aerated) {
  if (what == Disinfectant::Chloramine) return never_for_chloramine();
  if (!(rule.stand.si() > 0) || !(rule.aerate.si() > 0) || !(stood.si() >= 0) || !(aerated.si() >= 0))
    return refuse(Trouble::OutOfRange, "water.hours"_w, {}, "hours");
  return stood / rule.stand + aerated / rule.aerate;
}

}  // namespace steep
