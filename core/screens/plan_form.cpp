#include "base/text.h"
#include "screens/form_text.h"
#include "screens/plan.h"

namespace steep {
namespace {

std::optional<Moment> form_moment(const DraftFields& form, const std::string& key) {
  const auto ms = parse_int(form_text(form, key));
  return ms ? std::optional<Moment>(Moment{*ms}) : std::nullopt;
}

}  // namespace

DraftFields draft_fields(const PlanPageInput& input) { return filled_fields(input.form); }
void from_draft(PlanPageInput& input, const DraftFields& fields) { input.form = fields; }

PlanChoices plan_choices(const DraftFields& form, const Surroundings& around) {
  PlanChoices choices;
  choices.farm = around.farm;
  choices.person = around.person;
  choices.pass_plan = around.record;
  choices.beds = form_ids(form, "beds");
  if (form_text(form, "beds") == "none") choices.beds = {Id{}};  // All were taken out: nothing is proposed instead.
  choices.rig = form_id(form, "rig");
  choices.tea_rate = form_amount(form, "tea-rate");
  choices.spray_rate = form_amount(form, "spray-rate");
  const std::string area = form_text(form, "area");
  if (!area.empty()) choices.rate_area = area == "swath" ? RateArea::Swath : RateArea::BedTop;
  choices.recipe = form_id(form, "recipe");
  choices.vessels = form_ids(form, "vessels");
  choices.water_source = form_id(form, "water");
  choices.reserve = form_amount(form, "reserve");
  choices.volume = form_amount(form, "volume");
  choices.spray_from = form_moment(form, "at");
  choices.air_on = form_moment(form, "air-on");
  if (const auto expected = form_amount(form, "temperature"))
    choices.temperatures = {{around.now, as<Temperature>(*expected)}};
  for (const auto& [key, value] : form) {
    if (key.rfind("line:", 0) != 0) continue;
    const auto of = Id::parse(std::string_view(key).substr(5));
    auto amount = parse_written(value);
    if (of && amount) choices.amounts.push_back({*of, std::move(*amount)});
  }
  return choices;
}

}  // namespace steep
