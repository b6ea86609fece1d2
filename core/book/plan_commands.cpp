#include "book/plan_commands.h"

#include <cmath>

#include "book/amount_kinds.h"
#include "book/checks.h"
#include "book/entry.h"
#include "book/saves.h"

namespace steep {
namespace {

const Unit& volume_unit(const PlanSheet& sheet) {
  return unit(sheet.pass.places.farm.units == System::Metric ? "L" : "gal");
}

Stamp farm_stamp(const PlanSheet& sheet, Moment at) { return sheet.pass.places.farm.zone.stamp(at); }

/// Amounts that a person chose, this vessel's share of them.
std::vector<std::string> chosen_lines(const PlanSheet& sheet, double share) {
  std::vector<std::string> items;
  for (std::size_t i = 0; i < sheet.stock.size(); ++i) {
    const auto& chosen = sheet.input->recipe[i].chosen;
    if (!chosen) continue;
    const RecipeStock& stock = sheet.stock[i];
    const Lot* lot = stock.lot_for(*chosen);
    items.push_back((lot ? lot->id : stock.material.id).text() + " " +
                    write_quantity(*chosen * share, *stock.unit).text);
  }
  return items;
}

Save brew_save(const Book& book, const PlanSheet& sheet, const Plan& plan, const PlannedVessel& vessel) {
  std::vector<FieldValue> fields{word_value("what", "brew")};
  fields.push_back(plan.air_on ? instant_value("at", farm_stamp(sheet, *plan.air_on)) : not_taken("at"));
  if (plan.water_from) fields.push_back(instant_value("water_from", farm_stamp(sheet, *plan.water_from)));
  add_reference(fields, "recipe", sheet.chosen.recipe);
  add_reference(fields, "vessel", sheet.vessel(vessel.key)->id);
  fields.push_back(quantity_value("volume", write_quantity(vessel.fill, volume_unit(sheet), 2).text));
  add_reference(fields, "water", sheet.chosen.water_source);
  if (auto lines = chosen_lines(sheet, vessel.fill / plan.brewed); !lines.empty())
    fields.push_back(list_value("lines", std::move(lines)));
  Save save = new_save(book, "plan", std::move(fields));
  // Without a time of its own it lies in the year of the spraying.
  if (!plan.air_on) save.part = Part{{}, sheet.pass.places.farm.day(plan.spraying_from).year};
  return save;
}

std::vector<std::string> texts(const std::vector<Id>& ids) {
  std::vector<std::string> all;
  for (const Id& id : ids) all.push_back(id.text());
  return all;
}

std::string_view aim_word(Aim aim) { return aim == Aim::Leaf ? "leaf" : aim == Aim::Soil ? "soil" : "drench"; }

Save pass_save(const Book& book, const PlanSheet& sheet, const Plan& plan, const std::vector<Id>& brews) {
  const PlanChoices& chosen = sheet.chosen;
  std::vector<FieldValue> fields{word_value("what", "pass"),
                                 reference_value("farm", chosen.farm),
                                 instant_value("at", farm_stamp(sheet, plan.spraying_from)),
                                 list_value("beds", texts(chosen.beds)),
                                 quantity_value("rates.tea", chosen.tea_rate->text),
                                 quantity_value("rates.spray", chosen.spray_rate->text),
                                 word_value("rates.area", chosen.rate_area == RateArea::Swath ? "swath" : "bed-top")};
  add_reference(fields, "rig", chosen.rig);
  if (chosen.aim) fields.push_back(word_value("aim", aim_word(*chosen.aim)));
  fields.push_back(list_value("brews", texts(brews)));
  return new_save(book, "plan", std::move(fields));
}

/// The brews of one round, then its pass; gives the pass's plan.
Result<Id> add_round(const Book& book, const PlanSheet& sheet, const Plan& plan, bool with_intended,
                     std::vector<Save>& saves) {
  std::vector<Id> brews;
  for (const PlannedVessel& vessel : plan.vessels) {
    saves.push_back(brew_save(book, sheet, plan, vessel));
    brews.push_back(saves.back().record);
  }
  if (!with_intended) {
    saves.push_back(pass_save(book, sheet, plan, brews));
    return saves.back().record;
  }
  brews.insert(brews.begin(), sheet.pass.planned->brews.begin(), sheet.pass.planned->brews.end());
  TRY_ASSIGN(Save intended, change_save(book, sheet.chosen.pass_plan, {list_value("brews", texts(brews))}));
  saves.push_back(std::move(intended));
  return saves.back().record;
}

}  // namespace

Result<std::vector<Caution>> check_choices(const PlanChoices& choices, Moment now, const Going& going) {
  Cautions cautions(going);
  for (const auto* at : {&choices.spray_from, &choices.air_on})
    if (*at) TRY(cautions.ask(check_planned(**at, now, "at")));
  const std::pair<std::string_view, const std::optional<Written>*> amounts[] = {
      {"rates.tea", &choices.tea_rate}, {"rates.spray", &choices.spray_rate}, {"volume", &choices.volume}};
  for (const auto& row : amounts)
    if (*row.second) TRY(cautions.ask(check_amount("plan", row.first, {}, **row.second)));
  for (const TemperatureAt& expected : choices.temperatures) {
    const Written typed = write_quantity(expected.temperature.fahrenheit(), unit("degF"), 1);
    TRY(cautions.ask(check_amount("reading", "value.value", "temperature", typed)));
  }
  return cautions.take();
}

Result<Outcome> write_plan(Book& book, const BedStates& states, const PlanChoices& choices, const Going& going) {
  TRY_ASSIGN(const PlanSheet& sheet, plan_sheet(book, states, choices, book.now().at));
  if (sheet.problem) return tl::unexpected<Problem>(*sheet.problem);
  if (!sheet.can_write()) return refuse(Trouble::BadInput, "plan.missing"_w, {std::to_string(sheet.missing.size())});
  Outcome outcome;
  outcome.cautions = sheet.doubts;
  std::vector<Save> saves;
  const std::size_t rounds = sheet.season ? sheet.season->rounds.size() : 1;
  for (std::size_t i = 0; i < rounds; ++i) {
    const Plan& plan = sheet.season ? sheet.season->rounds[i] : *sheet.plan;
    TRY_ASSIGN(const Id pass, add_round(book, sheet, plan, i == 0 && !choices.pass_plan.is_nil(), saves));
    if (i == 0) outcome.record = pass;
  }
  saves.front().why = clean_text(going.reason);
  TRY(book.write(saves, going.person));
  outcome.written = true;
  return outcome;
}

Result<Outcome> plan_not_done(Book& book, const Id& plan, std::string_view why, const Going& going) {
  const std::string reason = clean_text(why);
  if (reason.empty()) return refuse(Trouble::BadInput, "record.reason-asked"_w, {}, "not_done");
  TRY_ASSIGN(const PlannedWork& planned, read_plan(book, plan));
  if (!planned.is_open()) return refuse(Trouble::BadInput, "plan.not-open"_w, {}, "not_done");
  TRY_ASSIGN(Save save, change_save(book, plan, {text_field_value("not_done", reason)}));
  return write_with(book, {std::move(save)}, plan, {}, going);
}

std::optional<PlannedWork> due_brew_plan(const std::vector<PlannedWork>& plans, Moment now) {
  std::optional<PlannedWork> nearest;
  for (const PlannedWork& plan : plans) {
    if (plan.what != "brew" || !plan.at || std::abs(plan.at->at - now) > kDay) continue;
    if (!nearest || std::abs(plan.at->at - now) < std::abs(nearest->at->at - now)) nearest = plan;
  }
  return nearest;
}

}  // namespace steep
