#include "screens/form_text.h"
#include "screens/start_pass.h"

namespace steep {

DraftFields draft_fields(const StartPassInput& input) { return filled_fields(input.form); }
void from_draft(StartPassInput& input, const DraftFields& fields) { input.form = fields; }

StartChoices start_choices(const DraftFields& form, const Surroundings& around) {
  StartChoices choices;
  choices.farm = around.farm;
  choices.person = around.person;
  const std::string plan = form_text(form, "plan");
  choices.no_plan = plan == "none";
  choices.plan = plan.empty() ? around.record : form_id(form, "plan");
  choices.others = form_ids(form, "others");
  choices.beds = form_ids(form, "beds");
  choices.rig = form_id(form, "rig");
  choices.brew = form_id(form, "brew");
  choices.no_tea = form_has(form, "no-tea");
  const std::string aim = form_text(form, "aim");
  if (!aim.empty()) choices.aim = aim == "leaf" ? Aim::Leaf : aim == "soil" ? Aim::Soil : Aim::Drench;
  choices.tea_rate = form_amount(form, "tea-rate");
  choices.spray_rate = form_amount(form, "spray-rate");
  const std::string area = form_text(form, "area");
  if (!area.empty()) choices.rate_area = area == "swath" ? RateArea::Swath : RateArea::BedTop;
  choices.rates_unknown = form_has(form, "rates-unknown");
  choices.tea = form_amount(form, "tea");
  choices.water = form_amount(form, "water");
  choices.volumes_not_taken = form_has(form, "volumes-not-taken");
  const std::string walk = form_text(form, "walk");
  if (!walk.empty()) choices.walk = walk == "turn" ? Walk::TurnAtEachBed : Walk::SameEnd;
  const std::string from = form_text(form, "from");
  if (!from.empty()) choices.from_far_end = from == "far";
  choices.weather.not_taken = form_has(form, "weather-not-taken");
  if (!choices.weather.not_taken) {
    choices.weather.wind = form_amount(form, "wind");
    choices.weather.temperature = form_amount(form, "temperature");
    choices.weather.direction = form_text(form, "direction");
    choices.weather.sky = form_text(form, "sky");
    choices.weather.where = form_text(form, "where");
  }
  return choices;
}

}  // namespace steep
