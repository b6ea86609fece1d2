/// plan: from beds and a target time back to the water, written into the book.

#include <iostream>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "book/bed_states.h"
#include "book/plan_commands.h"
#include "native/cli.h"
#include "quantity/home_amount.h"
#include "quantity/time_shown.h"

namespace steep {
namespace {

using Json = nlohmann::ordered_json;

struct PlanWords {
  std::string block, pass, rig, aim, recipe, water, at, air_on, tea_rate, spray_rate, area, reserve, volume, until,
      not_done, why, reason;
  std::vector<std::string> beds, vessels, temperatures, amounts;
  int every = 0;
  bool dry = false;
};

Result<std::optional<Written>> quantity_of(const std::string& typed, Dimension kind, const EnterAs& as) {
  if (typed.empty()) return std::optional<Written>{};
  TRY_ASSIGN(const Written written, read_quantity(typed, kind, as.habits));
  return std::optional<Written>(written);
}

Result<std::vector<Id>> beds_of(const Book& book, const Places& places, const PlanWords& words) {
  std::vector<Id> beds;
  for (const std::string& item : words.beds)
    for (const std::string_view name : split(item, ',')) {
      if (trim(name).empty()) continue;
      TRY_ASSIGN(const Id bed, bed_by_name(places.beds, trim(name)));
      beds.push_back(bed);
    }
  if (words.block.empty()) return beds;
  TRY_ASSIGN(const Id block, find_record(book, "block", words.block, places.farm.id));
  for (const Bed& bed : places.beds)
    if (bed.block == block) beds.push_back(bed.id);
  return beds;
}

/// 'Worm compost=2 lb': what a person takes instead of the recipe's amount.
Result<void> add_amounts(const Book& book, const PlanWords& words, const EnterAs& as, PlanChoices& chosen) {
  for (const std::string& item : words.amounts) {
    const auto mark = item.find('=');
    if (mark == std::string::npos) return refuse(Trouble::BadInput, "cli.name_value"_w, {item});
    TRY_ASSIGN(const Id of,
               find_record(book, "material|lot", std::string(trim(std::string_view(item).substr(0, mark))), as.farm));
    constexpr Dimension kKinds[] = {Dimension::Mass, Dimension::Volume, Dimension::Count};
    TRY_ASSIGN(const Written amount, read_quantity(std::string_view(item).substr(mark + 1), kKinds, as.habits));
    chosen.amounts.push_back({of, amount});
  }
  return {};
}

/// '66 F', or a course: '2026-05-13 06:00; 62 F' several times.
Result<void> add_temperatures(const PlanWords& words, const EnterAs& as, const Zone& zone, Stamp now,
                              PlanChoices& chosen) {
  for (const std::string& item : words.temperatures) {
    const auto mark = item.find(';');
    Moment at = now.at;
    if (mark != std::string::npos) {
      TRY_ASSIGN(const Stamp stamp, read_time(item.substr(0, mark), zone, now));
      at = stamp.at;
    }
    TRY_ASSIGN(const Written typed, read_quantity(mark == std::string::npos ? item : item.substr(mark + 1),
                                                  Dimension::Temperature, as.habits));
    chosen.temperatures.push_back({at, steep::as<Temperature>(typed)});
  }
  return {};
}

Result<PlanChoices> choices_of(Cli& cli, const Book& book, const BedStates& states, const PlanWords& words) {
  TRY_ASSIGN(const EnterAs as, cli.enter_as(book));
  const Places& places = states.places;
  const Zone& zone = places.farm.zone;
  const Stamp now = book.now();
  PlanChoices chosen;
  chosen.farm = places.farm.id;
  TRY_ASSIGN(chosen.person, cli.person(book));
  TRY_ASSIGN(chosen.beds, beds_of(book, places, words));
  const auto named = [&](const char* kind, const std::string& name, Id& into) -> Result<void> {
    if (name.empty()) return {};
    TRY_ASSIGN(into, find_record(book, kind, name, places.farm.id));
    return {};
  };
  TRY(named("plan", words.pass, chosen.pass_plan));
  TRY(named("rig", words.rig, chosen.rig));
  TRY(named("recipe", words.recipe, chosen.recipe));
  TRY(named("water-source", words.water, chosen.water_source));
  for (const std::string& vessel : words.vessels) TRY(named("vessel", vessel, chosen.vessels.emplace_back()));
  if (!words.aim.empty()) chosen.aim = words.aim == "leaf" ? Aim::Leaf : words.aim == "soil" ? Aim::Soil : Aim::Drench;
  TRY_ASSIGN(chosen.tea_rate, quantity_of(words.tea_rate, Dimension::VolumePerArea, as));
  TRY_ASSIGN(chosen.spray_rate, quantity_of(words.spray_rate, Dimension::VolumePerArea, as));
  if (!words.area.empty()) chosen.rate_area = words.area == "swath" ? RateArea::Swath : RateArea::BedTop;
  TRY_ASSIGN(chosen.reserve, quantity_of(words.reserve, Dimension::Share, as));
  TRY_ASSIGN(chosen.volume, quantity_of(words.volume, Dimension::Volume, as));
  const auto time_of = [&](const std::string& typed, std::optional<Moment>& into) -> Result<void> {
    if (typed.empty()) return {};
    TRY_ASSIGN(const Stamp stamp, read_time(typed, zone, now));
    into = stamp.at;
    return {};
  };
  TRY(time_of(words.at, chosen.spray_from));
  TRY(time_of(words.air_on, chosen.air_on));
  TRY(add_temperatures(words, as, zone, now, chosen));
  TRY(add_amounts(book, words, as, chosen));
  chosen.every_days = words.every;
  if (words.every != 0 || !words.until.empty()) {
    // One without the other is no season.
    if (words.every < 1 || words.until.empty()) return refuse(Trouble::BadInput, "cli.plan.season"_w);
    TRY_ASSIGN(chosen.until, read_date(words.until, zone.local(now.at).date));
  }
  return chosen;
}

// ---- What it says --------------------------------------------------------------------------------

struct Printer {
  const Words& words;
  UnitsShown units;
  SpellAs as;

  /// In one unit throughout: gallons or liters.
  std::string volume(Volume v) const {
    return show_in(unit(units.system == System::Metric ? "L" : "gal"), v.si(), units, words, 2).text();
  }
  std::string air(Flow flow) const { return show_in(air_unit(flow, units), flow.si(), units, words).text(); }
  std::string when(Moment at) const { return show_when(as.zone.local(at), as.today, units.clock, words); }
  void line(WordId word, std::vector<std::string> values) const { std::cout << words(word, values) << "\n"; }
};

std::string amount_text(const Printer& print, const RecipeStock& stock, AmountRange amount) {
  return show_home_range(amount.low, amount.high, *stock.unit, print.units, print.words);
}

void print_plan(const Printer& print, const PlanSheet& sheet) {
  const Plan& plan = *sheet.plan;
  print.line("cli.plan.beds"_w,
             {print.words.count("plan.bed_count"_w, static_cast<long long>(sheet.pass.beds.size())), sheet.pass.place,
              print.volume(plan.loads.on_beds.spray()), print.volume(plan.loads.on_beds.tea)});
  for (std::size_t i = 0; i < plan.loads.loads.size(); ++i) {
    const auto& load = plan.loads.loads[i];
    print.line("cli.plan.load"_w,
               {std::to_string(i + 1), print.volume(load.to_add.tea), print.volume(load.to_add.water),
                sheet.pass.beds[load.last_bed].name, show(load.ends_at, print.units, print.words)});
  }
  print.line("cli.plan.tea"_w, {print.volume(plan.brewed), print.volume(plan.reserve), print.volume(plan.spare)});
  for (const PlannedVessel& vessel : plan.vessels)
    print.line("cli.plan.vessel"_w, {sheet.vessel(vessel.key)->name, print.volume(vessel.fill),
                                     vessel.air_needed ? print.air(*vessel.air_needed) : "?"});
  for (std::size_t i = 0; i < plan.lines.size(); ++i) {
    const auto& chosen = sheet.input->recipe[i].chosen;
    if (!plan.lines[i].is_known && !chosen) continue;
    print.line("cli.plan.line"_w,
               {sheet.stock[i].material.name,
                amount_text(print, sheet.stock[i], chosen ? AmountRange{*chosen, *chosen} : plan.lines[i].amount)});
  }
  if (plan.water_from) print.line("cli.plan.water"_w, {print.when(*plan.water_from)});
  if (plan.air_on) print.line("cli.plan.air_on"_w, {print.when(*plan.air_on)});
  if (plan.ready) print.line("cli.plan.ready"_w, {print.when(plan.ready->earliest), print.when(plan.ready->latest)});
  print.line("cli.plan.spray"_w,
             {print.when(plan.air_off), print.when(plan.spraying_from), print.when(plan.spraying_to)});
  if (plan.use_by) print.line("cli.plan.use_by"_w, {print.when(*plan.use_by)});
  if (sheet.season) {
    std::cout << print.words.count("cli.plan.rounds"_w, static_cast<long long>(sheet.season->rounds.size()),
                                   {print.volume(sheet.season->tea), print.volume(sheet.season->spray)})
              << "\n";
    for (std::size_t i = 0; i < sheet.season->lines.size(); ++i)
      print.line("cli.plan.season_line"_w,
                 {sheet.stock[i].material.name, amount_text(print, sheet.stock[i], sheet.season->lines[i].amount)});
  }
  for (const PlanFigure& figure : sheet.figures) {
    const std::string name = print.words.stored("plan.figure." + figure.which, figure.which);
    const std::string value = figure.by.empty() ? show_at_home(figure.value, print.units, print.words)
                                                : show_both(figure.value, print.units, print.words);
    if (figure.by.empty())
      print.line("plan.figure_common"_w, {name, value});
    else
      print.line("plan.figure_by"_w, {name, value, figure.by});
  }
  for (const Caution& doubt : sheet.doubts)
    std::cout << "! " << spell(doubt.word, doubt.values, print.words, print.as) << "\n";
  print.line("window.senses-decide"_w, {});
}

Json time_json(const Zone& zone, std::optional<Moment> at) {
  return at ? Json(stamp_text(zone.stamp(*at))) : Json(nullptr);
}

/// Volumes in liters, each named for what it is; times with their offset.
Json plan_json(const PlanSheet& sheet, const Plan& plan, const Zone& zone) {
  Json loads = Json::array(), vessels = Json::array(), lines = Json::array();
  for (const auto& load : plan.loads.loads)
    loads.push_back({{"add-tea", load.to_add.tea.liters()},
                     {"add-water", load.to_add.water.liters()},
                     {"last-bed", sheet.pass.beds[load.last_bed].name},
                     {"ends-at", load.ends_at.feet()}});
  for (const PlannedVessel& vessel : plan.vessels)
    vessels.push_back(
        {{"vessel", sheet.vessel(vessel.key)->name},
         {"tea", vessel.fill.liters()},
         {"air-needed", vessel.air_needed ? Json(vessel.air_needed->liters_per_minute()) : Json(nullptr)}});
  for (std::size_t i = 0; i < plan.lines.size(); ++i)
    lines.push_back({{"material", sheet.stock[i].material.name},
                     {"low", plan.lines[i].amount.low},
                     {"high", plan.lines[i].amount.high},
                     {"unit", std::string(sheet.stock[i].unit->word)},
                     {"short-by", plan.lines[i].short_by ? Json(*plan.lines[i].short_by) : Json(nullptr)}});
  return {{"tea", plan.brewed.liters()},
          {"tea-needed", plan.tea.liters()},
          {"spray", plan.loads.total.spray().liters()},
          {"loads", loads},
          {"vessels", vessels},
          {"lines", lines},
          {"water-from", time_json(zone, plan.water_from)},
          {"air-on", time_json(zone, plan.air_on)},
          {"ready-earliest", time_json(zone, plan.ready ? std::optional(plan.ready->earliest) : std::nullopt)},
          {"ready-latest", time_json(zone, plan.ready ? std::optional(plan.ready->latest) : std::nullopt)},
          {"air-off", time_json(zone, plan.air_off)},
          {"spray-from", time_json(zone, plan.spraying_from)},
          {"spray-to", time_json(zone, plan.spraying_to)},
          {"use-by", time_json(zone, plan.use_by)}};
}

void print_json(const PlanSheet& sheet, const Printer& print, const Id& written) {
  Json doubts = Json::array(), rounds = Json::array();
  for (const Caution& doubt : sheet.doubts)
    doubts.push_back(
        {{"word", std::string(doubt.word.key)}, {"text", spell(doubt.word, doubt.values, print.words, print.as)}});
  if (sheet.season)
    for (const Plan& round : sheet.season->rounds) rounds.push_back(plan_json(sheet, round, print.as.zone));
  else
    rounds.push_back(plan_json(sheet, *sheet.plan, print.as.zone));
  std::cout << Json{{"id", written.is_nil() ? Json(nullptr) : Json(written.text())},
                    {"rounds", rounds},
                    {"doubts", doubts}}
                   .dump()
            << "\n";
}

Result<void> do_plan(Cli& cli, const PlanWords& words) {
  TRY_ASSIGN(Book book, cli.open());
  TRY_ASSIGN(const Id person, cli.person(book));
  if (!words.not_done.empty()) {
    TRY_ASSIGN(const Id plan, find_record(book, "plan", words.not_done, {}));
    TRY_ASSIGN(const Outcome outcome, plan_not_done(book, plan, words.why, {person, {}, true}));
    cli.say(book, outcome);
    return {};
  }
  TRY_ASSIGN(const Id farm, cli.farm(book));
  TRY_ASSIGN(const BedStates states, bed_states(book, farm, book.now().at));
  TRY_ASSIGN(const PlanChoices chosen, choices_of(cli, book, states, words));
  const Going going{person, words.reason, false};
  TRY_ASSIGN(const std::vector<Caution> cautions, check_choices(chosen, book.now().at, going));
  for (const Caution& caution : cautions)
    std::cerr << spell(caution.word, caution.values, cli.words(), cli.spell_as(book)) << "\n";
  TRY_ASSIGN(const PlanSheet sheet, plan_sheet(book, states, chosen, book.now().at));
  if (sheet.problem) return tl::unexpected<Problem>(*sheet.problem);
  if (!sheet.can_write()) return refuse(Trouble::BadInput, "plan.missing"_w, {std::to_string(sheet.missing.size())});
  Id written;
  if (!words.dry) {
    TRY_ASSIGN(const Outcome outcome, write_plan(book, states, chosen, going));
    written = outcome.record;
  }
  const Words said = cli.words();
  UnitsShown units = cli.units();
  if (cli.units_word.empty()) units.system = states.places.farm.units;
  const Printer print{said, units, {units, states.places.farm.zone, states.today}};
  if (cli.json) {
    print_json(sheet, print, written);
  } else {
    print_plan(print, sheet);
    if (!written.is_nil()) std::cout << written.text() << "\n";
  }
  return {};
}

}  // namespace

void add_plan_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand(
      "plan",
      "work a plan out of the book, from beds and a target time back to the water, and write it\n"
      "  steepbook plan --block North --at '2026-05-15 18:40' --as Ana");
  auto words = std::make_shared<PlanWords>();
  verb->add_option("--beds", words->beds, "beds by name: N1,N2 (default: those due by then)");
  verb->add_option("--block", words->block, "all beds of a block");
  verb->add_option("--pass", words->pass, "an intended pass (id of its plan): its beds, rates and time");
  verb->add_option("--at", words->at, "when the first bed is to be sprayed");
  verb->add_option("--air-on", words->air_on, "when the air goes on (default: worked out backward)");
  verb->add_option("--rig", words->rig, "rig by name");
  verb->add_option("--aim", words->aim, "leaf, soil or drench")->check(CLI::IsMember({"leaf", "soil", "drench"}));
  verb->add_option("--tea-rate", words->tea_rate, "tea per area, '20 gal/acre'");
  verb->add_option("--spray-rate", words->spray_rate, "spray (tea and water) per area, '45 gal/acre'");
  verb->add_option("--area", words->area, "area of what the rates mean")->check(CLI::IsMember({"bed-top", "swath"}));
  verb->add_option("--recipe", words->recipe, "recipe by name");
  verb->add_option("--vessel", words->vessels, "vessel by name; several times for several");
  verb->add_option("--water", words->water, "water source by name");
  verb->add_option("--temperature", words->temperatures,
                   "expected at the brewer: '66 F', or 'TIME; 66 F' several times");
  verb->add_option("--reserve", words->reserve, "tea beyond the loads, '5 %'");
  verb->add_option("--volume", words->volume, "gallons of tea to brew in all, when more than needed");
  verb->add_option("--amount", words->amounts, "material=amount, instead of the recipe's; several times");
  verb->add_option("--every", words->every, "a season: again every so many days …");
  verb->add_option("--until", words->until, "… up to this day");
  verb->add_flag("--dry", words->dry, "only say it, write nothing");
  verb->add_option("--not-done", words->not_done, "a plan (id) that was not done; needs --why");
  verb->add_option("--reason", words->reason, "going on in spite of a caution: why");
  verb->add_option("--why", words->why, "the reason: rain, wind, no time …");
  on_run(cli, verb, words, do_plan);
}

}  // namespace steep
