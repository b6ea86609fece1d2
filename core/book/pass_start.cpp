#include "book/pass_start.h"

#include "book/codes.h"
#include "book/pass_parts.h"
#include "book/saves.h"

namespace steep {
namespace {

std::string_view aim_word(Aim aim) { return aim == Aim::Leaf ? "leaf" : aim == Aim::Soil ? "soil" : "drench"; }

Save pass_save(const Book& book, const StartSheet& sheet, int number, Stamp now) {
  const StartChoices& chosen = sheet.chosen;
  std::vector<FieldValue> fields{reference_value("farm", chosen.farm), number_value("number", std::to_string(number))};
  add_reference(fields, "rig", chosen.rig);
  if (sheet.calibration) add_reference(fields, "calibration", sheet.calibration->id);
  fields.push_back(word_value("aim", aim_word(*chosen.aim)));
  std::vector<std::string> people{chosen.person.text()};
  for (const Id& other : chosen.others) people.push_back(other.text());
  fields.push_back(list_value("people", std::move(people)));
  fields.push_back(instant_value("start", now));
  add_weather(fields, "weather_start", chosen.weather);
  const bool rates = !chosen.rates_unknown;
  fields.push_back(quantity_or_not_taken("rates.tea", rates ? chosen.tea_rate : std::optional<Written>()));
  fields.push_back(quantity_or_not_taken("rates.spray", rates ? chosen.spray_rate : std::optional<Written>()));
  fields.push_back(word_value("rates.area", chosen.rate_area == RateArea::Swath ? "swath" : "bed-top"));
  fields.push_back(word_value("walk.way", *chosen.walk == Walk::TurnAtEachBed ? "turn" : "same"));
  fields.push_back(word_value("walk.from", *chosen.from_far_end ? "far" : "zero"));
  std::vector<std::string> beds;
  for (const Id& bed : chosen.beds) beds.push_back(bed.text());
  fields.push_back(list_value("beds", std::move(beds)));
  return new_save(book, "pass", std::move(fields));
}

/// What the tank held before, and whether it was cleaned since.
Result<void> add_tank_before(const Book& book, const Codes& codes, const Id& rig, Moment now,
                             std::vector<FieldValue>& fields) {
  TRY_ASSIGN(const TankHistory& before, rig_history(book, rig, now));
  if (!before.held_at) return {};
  std::string held = before.held;
  if (held.empty() && !before.held_brew.is_nil()) held = "brew " + codes.text(before.held_brew);
  fields.push_back(held.empty() ? not_taken("before.held") : text_field_value("before.held", held));
  fields.push_back(yes_no_value("before.cleaned", before.is_clean()));
  return {};
}

/// The first load, with a line for each product in it.
Result<void> add_first_load(const Book& book, const StartSheet& sheet, const Codes& codes, const Id& pass, Stamp now,
                            std::vector<Save>& saves) {
  const StartChoices& chosen = sheet.chosen;
  const auto measured = [&](const std::optional<Written>& volume) {
    return chosen.volumes_not_taken ? std::optional<Written>() : volume;
  };
  std::vector<FieldValue> fields{reference_value("pass", pass), number_value("number", "1")};
  add_reference(fields, "mix.brew", chosen.brew);
  if (chosen.no_tea && !chosen.tea)
    fields.push_back(quantity_value("mix.tea", write_quantity(Volume{}, volume_unit(sheet)).text));
  else
    fields.push_back(quantity_or_not_taken("mix.tea", measured(chosen.tea)));
  add_reference(fields, "mix.source", chosen.water_source);
  fields.push_back(quantity_or_not_taken("mix.water", measured(chosen.water)));
  fields.push_back(instant_value("filled", now));
  TRY(add_tank_before(book, codes, chosen.rig, now.at, fields));
  saves.push_back(new_save(book, "load", std::move(fields)));
  const Id load = saves.back().record;
  for (const ProductGiven& product : chosen.products) {
    std::vector<FieldValue> line{reference_value("load", load)};
    add_reference(line, "amount.lot", product.lot);
    line.push_back(quantity_or_not_taken("amount.amount", product.amount));
    saves.push_back(new_save(book, "load-line", std::move(line)));
  }
  return {};
}

}  // namespace

Result<Outcome> start_pass(Book& book, const StartChoices& choices, const Going& going) {
  const Stamp now = book.now();
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  TRY_ASSIGN(const std::optional<Id>& open, open_pass(book));
  if (open) return refuse(Trouble::Conflict, "pass.already-open"_w, {code_value_text("pass", codes.text(*open))});
  TRY_ASSIGN(const StartSheet& sheet, start_sheet(book, choices, now.at));
  if (!sheet.missing.empty())
    return refuse(Trouble::BadInput, "pass.missing"_w, {std::to_string(sheet.missing.size())});
  if (!sheet.stops.empty() && !going.after_the_fact) return tl::unexpected<Problem>(sheet.stops.front());
  std::vector<Save> saves;
  saves.push_back(pass_save(book, sheet, codes.next("pass"), now));
  const Id pass = saves.front().record;
  TRY(add_first_load(book, sheet, codes, pass, now, saves));
  if (sheet.planned) {
    TRY_ASSIGN(Save became, change_save(book, sheet.planned->id, {reference_value("became", pass)}));
    saves.push_back(std::move(became));
  }
  Going with = going;
  if (with.person.is_nil()) with.person = sheet.chosen.person;
  return write_with(book, std::move(saves), pass, sheet.cautions, with);
}

}  // namespace steep
