#pragma once
/// What the files of the plan's view share. Only they include this.

#include <string>
#include <string_view>

#include "quantity/home_amount.h"
#include "screens/amounts.h"
#include "screens/plan.h"

namespace steep {

/// Texts of one plan: every volume followed by what it is.
struct PlanTeller {
  const Surroundings& around;
  const PlanSheet& sheet;
  const Words& words;
  std::string unit;  ///< 'gal'

  PlanTeller(const Surroundings& a, const PlanSheet& s)
      : around(a), sheet(s), words(a.words), unit(unit_label(tank_unit(a.units), 2, a.words)) {}
  std::string number(Volume v) const { return tank_number(v, around.units, words); }
  std::string volume(Volume v) const { return tank_text(v, around.units, words); }
  std::string tea(Volume v) const { return words("brew.unit_tea"_w, {volume(v)}); }
  std::string of_tea() const { return words("brew.unit_tea"_w, {unit}); }
  std::string of_spray() const { return words("spray.unit_spray"_w, {unit}); }
  bool metric() const { return around.units.system == System::Metric; }
  std::string rate(VolumePerArea r) const {
    return show_in(steep::unit(metric() ? "L/ha" : "gal/acre"), r.si(), around.units, words).text();
  }
  std::string rate_number(VolumePerArea r) const {
    return show_in(steep::unit(metric() ? "L/ha" : "gal/acre"), r.si(), around.units, words).number;
  }
  std::string area(Area a) const {
    return show_in(steep::unit(metric() ? "ha" : "acre"), a.si(), around.units, words).text();
  }
  std::string air(Flow flow) const {
    return show_in(air_unit(flow, around.units), flow.si(), around.units, words).text();
  }
  /// 'reserve: 5 % (common practice, no source)'
  std::string figure(std::string_view which) const {
    const PlanFigure* figure = sheet.figure(which);
    if (!figure) return {};
    const std::string name = words.stored("plan.figure." + figure->which, figure->which),
                      value = figure->by.empty() ? show_at_home(figure->value, around.units, words)
                                                 : show_both(figure->value, around.units, words);
    return figure->by.empty() ? words("plan.figure_common"_w, {name, value})
                              : words("plan.figure_by"_w, {name, value, figure->by});
  }
};

/// Air on, the ribbon, and the chain of times (plan_times.cpp).
void say_plan_times(PlanPageView& view, const PlanTeller& tell, const PlanPageInput& input);

}  // namespace steep
