#include "trade/injector.h"

#include <cmath>

namespace steep {
namespace {

bool is_usable(double si) { return std::isfinite(si) && si > 0; }
bool is_ratio(double ratio) { return ratio >= 1 && ratio <= 10000; }
double parts_of_final(double ratio, InjectorRatio meaning) {
  return meaning == InjectorRatio::OnFinalVolume ? ratio : ratio + 1;
}
auto bad_ratio() { return refuse(Trouble::OutOfRange, "injector.ratio"_w, {}, "ratio"); }
auto bad_volume(std::string place) { return refuse(Trouble::OutOfRange, "injector.volume"_w, {}, std::move(place)); }

}  // namespace

Result<Volume> concentrate_for(Volume final_volume, double ratio, InjectorRatio meaning) {
  if (!is_ratio(ratio)) return bad_ratio();
  if (!is_usable(final_volume.si())) return bad_volume("final");
  return final_volume / parts_of_final(ratio, meaning);
}

Result<Volume> final_from(Volume concentrate, double ratio, InjectorRatio meaning) {
  if (!is_ratio(ratio)) return bad_ratio();
  if (!is_usable(concentrate.si())) return bad_volume("concentrate");
  return concentrate * parts_of_final(ratio, meaning);
}

Result<Share> injected_share(double ratio, InjectorRatio meaning) {
  if (!is_ratio(ratio)) return bad_ratio();
  return Share::from_ratio(1 / parts_of_final(ratio, meaning));
}

Result<Duration> running_time(Volume final_volume, Flow outflow) {
  if (!is_usable(final_volume.si())) return bad_volume("final");
  if (!is_usable(outflow.si())) return refuse(Trouble::OutOfRange, "injector.flow"_w, {}, "flow");
  return final_volume / outflow;
}

Result<double> measured_ratio(Volume drawn, Volume came_out, InjectorRatio meaning) {
  if (!is_usable(drawn.si())) return bad_volume("drawn");
  if (!is_usable(came_out.si()) || drawn > came_out) return bad_volume("came-out");
  const double all = came_out / drawn;
  return meaning == InjectorRatio::OnFinalVolume ? all : all - 1;
}

Result<Concentration> stock_strength(Concentration in_final, Share fraction, double ratio) {
  if (!is_ratio(ratio)) return bad_ratio();
  if (!is_usable(in_final.si())) return refuse(Trouble::OutOfRange, "injector.strength"_w, {}, "strength");
  if (!(fraction.ratio() > 0 && fraction.ratio() <= 1))
    return refuse(Trouble::OutOfRange, "injector.fraction"_w, {}, "fraction");
  return in_final * (ratio / fraction.ratio());
}

}  // namespace steep
