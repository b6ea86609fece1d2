#include "trade/compost_mix.h"

#include <cmath>

namespace steep {
namespace {

bool is_usable(const Feedstock& f) {
  const auto share = [](const std::optional<Share>& s) { return !s || (s->ratio() >= 0 && s->ratio() <= 1); };
  return std::isfinite(f.mass.si()) && f.mass.si() > 0 && f.moisture.ratio() >= 0 && f.moisture.ratio() < 1 &&
         share(f.carbon) && share(f.nitrogen);
}

auto bad() { return refuse(Trouble::BadInput, "compost.material"_w, {}, "material"); }
double dry(const Feedstock& f) { return f.mass.si() * (1 - f.moisture.ratio()); }

}  // namespace

Result<CompostMix> compost_mix(std::span<const Feedstock> materials) {
  if (materials.empty()) return bad();
  double mass = 0, water = 0, carbon = 0, nitrogen = 0;
  bool known = true;
  for (const Feedstock& f : materials) {
    if (!is_usable(f)) return bad();
    mass += f.mass.si();
    water += f.mass.si() * f.moisture.ratio();
    known = known && f.carbon && f.nitrogen;
    if (f.carbon) carbon += dry(f) * f.carbon->ratio();
    if (f.nitrogen) nitrogen += dry(f) * f.nitrogen->ratio();
  }
  CompostMix mix;
  mix.mass = Mass::from_si(mass);
  mix.moisture = Share::from_ratio(water / mass);
  if (known && nitrogen > 0) mix.carbon_to_nitrogen = carbon / nitrogen;
  return mix;
}

Result<Mass> to_reach_moisture(const Feedstock& first, Share second_moisture, Share goal) {
  if (!is_usable(first) || !(second_moisture.ratio() >= 0 && second_moisture.ratio() <= 1)) return bad();
  const double over = first.moisture.ratio() - goal.ratio(), under = goal.ratio() - second_moisture.ratio();
  if (over == 0) return Mass{};
  if (!(over / under > 0) || under == 0) return refuse(Trouble::OutOfRange, "compost.goal-between"_w, {}, "goal");
  return first.mass * (over / under);
}

Result<Mass> to_reach_ratio(const Feedstock& first, const Feedstock& second, double goal) {
  Feedstock unit = second;
  unit.mass = Mass::from_kilograms(1);
  if (!is_usable(first) || !is_usable(unit) || !first.carbon || !first.nitrogen || !second.carbon || !second.nitrogen ||
      !(goal > 0))
    return bad();
  const double need = dry(first) * (goal * first.nitrogen->ratio() - first.carbon->ratio());
  const double gives = dry(unit) * (second.carbon->ratio() - goal * second.nitrogen->ratio());
  if (need == 0) return Mass{};
  if (!(need / gives > 0) || gives == 0) return refuse(Trouble::OutOfRange, "compost.goal-between"_w, {}, "goal");
  return Mass::from_kilograms(need / gives);
}

Result<Volume> water_to_reach_moisture(const CompostMix& mix, Share goal) {
  if (!(goal.ratio() < 1) || !(mix.mass.si() > 0)) return bad();
  const double add = mix.mass.si() * (goal.ratio() - mix.moisture.ratio()) / (1 - goal.ratio());
  if (!(add >= 0)) return refuse(Trouble::OutOfRange, "compost.wetter-already"_w, {}, "goal");
  return Volume::from_liters(add);  // A kilogram a liter.
}

Result<Share> moisture_of_sample(Mass wet, Mass dry_mass) {
  if (!(wet.si() > 0) || !(dry_mass.si() >= 0) || dry_mass > wet)
    return refuse(Trouble::BadInput, "compost.sample"_w, {}, "dry");
  return Share::from_ratio((wet - dry_mass) / wet);
}

}  // namespace steep
