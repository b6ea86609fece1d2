#include "book/enter.h"
#include "book/bed_states.h"
#include "book/checks.h"
#include "book/codes.h"
#include "book/questions.h"
#include "book/settle_commands.h"
#include "book/spelled.h"
#include "book/tables.h"
#include "book/work.h"
#include "book/work_typed.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

std::string read_back(const Book& book, std::string_view kind, std::string_view field, std::string_view typed,
                      const EnterAs& as = {}) {
  const auto read = read_field(book, *find_field(*find_kind(kind), field), typed, as);
  if (!read)
    return std::string(read.error().kind == Trouble::Ask ? "ask " : "no ") + std::string(read.error().word.key);
  return read->type == FieldType::NotTaken ? "not taken" : read->text;
}

const Zone& new_york() {
  static const Zone zone = *Zone::from_name("America/New_York");
  return zone;
}
const Stamp kMarch = *parse_stamp("2026-03-08T12:00:00-04:00");

}  // namespace

// Values as people type them.
TEST_CASE("absurd, negative and mistyped values") {
  FarmBook farm(1, 8);
  Book& book = farm.book();
  const Id brew = farm.brew();
  const auto reading = [&](std::string quantity, std::optional<Written> value, std::optional<std::string> number = {}) {
    ReadingGiven given;
    given.of = brew;
    given.quantity = std::move(quantity);
    given.value = value;
    given.number = number;
    return given;
  };
  SUBCASE("685 °F asks for 68.5, and is kept with a reason") {
    const auto asked = add_reading(book, reading("temperature", q("685 degF")), farm.by_ana());
    REQUIRE_FALSE(asked);
    CHECK(asked.error().kind == Trouble::Ask);
    CHECK(asked.error().values[1] == amount_value_text(q("68.5 degF")));
    done(add_reading(book, reading("temperature", q("685 degF")), farm.by_ana("a kiln probe, tried for fun")));
  }
  SUBCASE("20 °F is below freezing: warn, 20 °C = 68 °F") {
    const Outcome outcome = got(add_reading(book, reading("temperature", q("20 degF")), farm.by_ana()));
    CHECK_FALSE(outcome.written);
    REQUIRE(has_caution(outcome.cautions, "check.freezing"));
    CHECK(outcome.cautions[0].values[2] == "68 °F");
  }
  SUBCASE("pH 75 stops, 7.5 offered, no way through") {
    const auto stopped = add_reading(book, reading("ph", {}, "75"), farm.by_ana("sure"));
    REQUIRE_FALSE(stopped);
    CHECK(stopped.error().kind == Trouble::BadInput);
    CHECK(stopped.error().values[1] == "7.5");
  }
  SUBCASE("84 mg/L of oxygen asks, 8.4 offered") {
    const auto asked = add_reading(book, reading("oxygen", q("84 mg/L")), farm.by_ana());
    REQUIRE_FALSE(asked);
    CHECK(asked.error().kind == Trouble::Ask);
    CHECK(asked.error().values[1] == amount_value_text(q("8.4 mg/L")));
  }
  SUBCASE("volumes as people write them") {
    EnterAs comma;
    comma.habits.mark = DecimalMark::Comma;
    CHECK(read_back(book, "dose", "what.volume", "-3 gal").substr(0, 3) == "no ");
    CHECK(read_back(book, "dose", "what.volume", "1,5 gal") == "1.5 gal");
    CHECK(read_back(book, "dose", "what.volume", "1,5 gal", comma) == "1.5 gal");
    CHECK(read_back(book, "dose", "what.volume", "1,500 gal").substr(0, 4) == "ask ");
    CHECK(read_back(book, "brew-line", "amount.amount", "1/2 cup") == "1/2 cup");
    CHECK(read_back(book, "dose", "what.volume", "3").substr(0, 4) == "ask ");  // no number without its unit
    CHECK(read_back(book, "dose", "what.volume", "3 ft").substr(0, 3) == "no ");
    CHECK(read_back(book, "dose", "what.volume", "-") == "not taken");
  }
  SUBCASE("wind 45 mph is rare: warn, kept with a reason") {
    const EnterFields fields{{"aim", "leaf"}, {"start", "2026-05-14 17:00"}, {"weather_start.wind", "45 mph"}};
    CHECK(has_caution(got(enter(book, "pass", fields, {}, farm.by_ana())).cautions, "check.wind-rare"));
    done(enter(book, "pass", fields, {}, farm.by_ana("gust front")));
  }
  SUBCASE("a bed of 1000 ft among beds of 100 ft: warn") {
    const EnterFields fields{{"block", "North"}, {"name", "N99"}, {"length", "1000 ft"}, {"width", "30 in"}};
    CHECK(has_caution(got(enter(book, "bed", fields, {}, farm.by_ana())).cautions, "check.bed-unlike-others"));
  }
  SUBCASE("days and hours") {
    const Date today{2026, 5, 14};
    CHECK(refusal(read_date("2062-05-04", today)) == "enter.year-far");
    CHECK(refusal(read_date("4/5", today)) == "enter.date-two-ways");
    CHECK(got(read_date("14/5", today)) == Date{2026, 5, 14});
    CHECK(got(read_date("14 May", today)) == Date{2026, 5, 14});
    CHECK(got(read_date("9 abril 2026", today)) == Date{2026, 4, 9});
    CHECK(got(read_date("9 de abril de 2026", today)) == Date{2026, 4, 9});
    CHECK(got(read_date("tomorrow", today)) == Date{2026, 5, 15});
    CHECK(got(read_date("mañana", today)) == Date{2026, 5, 15});
    CHECK(refusal(read_date("31 June", today)) == "enter.date-month-short");
    CHECK(refusal(read_date("31/4", today)) == "enter.date-month-short");
    CHECK(refusal(read_date("4/31", today)) == "enter.date-month-short");
    CHECK(refusal(read_date("29 feb 2026", today)) == "enter.date-month-short");
    CHECK(refusal(read_date("32 May", today)) == "enter.date");
    CHECK(refusal(read_date("32/13", today)) == "enter.date");
    // 02:30 on 8 March 2026 did not exist in New York; 1:30 on 1 November 2026 came twice.
    CHECK(refusal(read_time("2026-03-08 02:30", new_york(), kMarch)) == "enter.no-such-hour");
    CHECK(refusal(read_time("2026-11-01 01:30", new_york(), kMarch)) == "enter.hour-twice");
    CHECK(stamp_text(got(read_time("2026-03-07 18:00", new_york(), kMarch))) == "2026-03-07T18:00:00-05:00");
    CHECK(stamp_text(got(read_time("6:04 pm", new_york(), kMarch))) == "2026-03-08T18:04:00-04:00");
    CHECK(refusal(read_time("25:00", new_york(), kMarch)) == "enter.time");
    CHECK(refusal(check_when(kMarch.at + 3 * kDay, kMarch.at, "at")) == "check.in-the-future");
  }
}

// The reader of times is one for all: on the command line, in forms, in calculations.
TEST_CASE("a time is read as people write it; a day alone asks for its hour") {
  const auto read = [](std::string_view typed) {
    const auto stamp = read_time(typed, new_york(), kMarch);
    return stamp ? stamp_text(*stamp) : std::string(stamp.error().word.key);
  };
  for (const std::string_view typed :
       {"28 nov 10pm", "28 nov 10 pm", "28 Nov 22h", "28 nov, 22 h", "28 nov 22:00", "28 de noviembre a las 22:00",
        "28 Nov at 10 p.m.", "28 nov 10 p. m.", "28 nov 22:00 h", "2026-11-28T22:00", "2026-11-28T22:00-05:00",
        "2026-11-28 22:00 -05:00", "nov 28 22:00:00"})
    CHECK_MESSAGE(read(typed) == "2026-11-28T22:00:00-05:00", std::string(typed));
  CHECK(read("2026-11-29T03:00Z") == "2026-11-29T03:00:00+00:00");
  CHECK(read("22h30") == "2026-03-08T22:30:00-04:00");
  CHECK(read("12 am") == "2026-03-08T00:00:00-05:00");
  CHECK(read("hoy 0:00") == "2026-03-08T00:00:00-05:00");
  CHECK(read("tomorrow 6:30 pm") == "2026-03-09T18:30:00-04:00");
  CHECK(read("mañana 6:30") == "2026-03-09T06:30:00-04:00");
  CHECK(read("ayer 18:00") == "2026-03-07T18:00:00-05:00");
  CHECK(read("2026-11-01 01:30 -04:00") == "2026-11-01T01:30:00-04:00");  // Says which of the two.
  for (const std::string_view day : {"28 nov", "today", "hoy", "2026-11-28", "28 march", "mañana", "14/5"})
    CHECK_MESSAGE(read(day) == "enter.hour-asked", std::string(day));
  CHECK(read("4/5") == "enter.date-two-ways");
  for (const std::string_view wrong : {"13 pm", "25 h", "6:60", "18", "28", "", "6:00-7:00", "soon", "1:2:3:4"})
    CHECK_MESSAGE(read(wrong) == "enter.time", std::string(wrong));
  FarmBook farm(1, 2);
  CHECK(read_back(farm.book(), "dose", "when.finish", "28 nov") == "ask enter.hour-asked");
  CHECK(read_back(farm.book(), "harvest", "at", "hoy") == "ask enter.hour-asked");
}

// A reading that nobody took stays a slot of its own.
TEST_CASE("not taken is a value, and is never zero") {
  FarmBook farm(1, 2);
  Book& book = farm.book();
  const Id brew = farm.brew(24);
  done(set_limit(book, farm.farm, "oxygen", q("6 mg/L"), "Ana Leland", farm.by_ana()));
  const Moment begun = got(read_brew(book, brew)).air_on->at;
  const std::pair<int, const char*> slots[] = {
      {0, "8.4 mg/L"}, {6, "7.1 mg/L"}, {12, ""}, {18, "5.2 mg/L"}, {24, "6.3 mg/L"}};
  bool low_said = false;
  for (const auto& [hour, value] : slots) {
    ReadingGiven given;
    given.of = brew;
    given.quantity = "oxygen";
    if (*value) given.value = q(value);
    given.not_taken = !*value;
    given.at = begun + hour * kHour;
    const Outcome outcome = done(add_reading(book, given, farm.by_ana()));
    low_said = low_said || has_caution(outcome.cautions, "check.oxygen-under");
    CHECK(has_caution(outcome.cautions, "check.oxygen-under") == (hour == 18));
  }
  CHECK(low_said);
  const std::vector<Reading> all = got(readings(book, brew));
  REQUIRE(all.size() == 5);
  CHECK(all[2].not_taken);
  CHECK_FALSE(all[2].value);
  int taken = 0;
  double sum = 0;
  for (const Reading& reading : all)
    if (reading.value) {
      ++taken;
      sum += as<Concentration>(*reading.value).milligrams_per_liter();
    }
  CHECK(taken == 4);
  CHECK(sum / taken == doctest::Approx(6.75));
  // Nothing at all is neither a reading nor 'not taken'.
  ReadingGiven empty;
  empty.of = brew;
  empty.quantity = "oxygen";
  CHECK(refusal(add_reading(book, empty, farm.by_ana())) == "check.reading-empty");
}

// A tank that last carried something else.
TEST_CASE("a tank not cleaned since something else warns until a cleaning before the load is on record") {
  FarmBook farm(1, 2);
  Book& book = farm.book();
  const auto at = [](std::string_view text) { return *parse_stamp(text); };
  farm.copy.clock = at("2026-06-04T05:00:00-04:00").at.ms;
  const Id copper = farm.material("Copper", "pesticide", false);
  const Id lot = farm.lot(copper, "K-19", "10 lb");
  const Id pass = add(book, "pass",
                      {reference_value("farm", farm.farm), reference_value("rig", farm.rig), word_value("aim", "leaf"),
                       instant_value("start", at("2026-06-01T18:00:00-04:00")),
                       instant_value("finish", at("2026-06-01T19:00:00-04:00"))});
  const Id load = add(book, "load",
                      {reference_value("pass", pass), number_value("number", "1"),
                       instant_value("filled", at("2026-06-01T18:00:00-04:00"))});
  add(book, "load-line",
      {reference_value("load", load), reference_value("amount.lot", lot), quantity_value("amount.amount", "1 lb")});
  const Id brew = farm.brew();
  const Moment loading = at("2026-06-04T06:05:00-04:00").at;
  CHECK(has_caution(got(tank_cautions(book, farm.rig, brew, loading, {})), "check.tank-not-cleaned"));
  farm.copy.clock = at("2026-06-04T07:00:00-04:00").at.ms;
  SUBCASE("cleaned at 05:50, before the load: no warning") {
    done(add_wash(book, farm.rig, "3 rinses", at("2026-06-04T05:50:00-04:00").at, farm.by_ana()));
    CHECK(got(tank_cautions(book, farm.rig, brew, loading, {})).empty());
  }
  SUBCASE("cleaned at 06:30, after the load: the warning stands") {
    done(add_wash(book, farm.rig, "3 rinses", at("2026-06-04T06:30:00-04:00").at, farm.by_ana()));
    CHECK(has_caution(got(tank_cautions(book, farm.rig, brew, loading, {})), "check.tank-not-cleaned"));
  }
  SUBCASE("gone on with a reason: the load keeps what the tank held") {
    const Id started = farm.start(farm.choices(brew, farm.beds), "rinsed by eye");
    const std::vector<Load> all = got(loads(book, started));
    CHECK(*all[0].before_held == "Copper");
    CHECK_FALSE(*all[0].before_cleaned);
  }
}

// Kilograms typed where pounds were meant.
TEST_CASE("22 kg where the recipe says 22 lb") {
  FarmBook farm(1, 2);
  Book& book = farm.book();
  const Id compost = farm.material("Leaf compost", "compost", false);
  const Id recipe = add(book, "recipe", {text_field_value("name", "Leaf 3"), quantity_value("reference", "110 gal")});
  add(book, "recipe-line",
      {reference_value("recipe", recipe), reference_value("material", compost), quantity_value("amount.low", "22 lb")});
  BrewGiven given;
  given.recipe = recipe;
  given.fill = q("110 gal");
  given.lines = {{farm.lot(compost, "C-1", "300 lb"), q("22 kg")}};
  const Outcome asked = got(start_brew(book, given, farm.by_ana()));
  CHECK_FALSE(asked.written);
  REQUIRE(has_caution(asked.cautions, "check.unit-slip"));
  const Id brew = done(start_brew(book, given, farm.by_ana("weighed twice"))).record;
  const BrewSheet sheet = got(read_brew_sheet(book, brew));
  CHECK(sheet.lines[0].amount->text == "22 kg");
  CHECK(sheet.code == "1");
  given.lines[0].amount = q("22 lb");
  CHECK(got(start_brew(book, given, farm.by_ana())).written);
}

TEST_CASE("entering by names: references, groups, what is missing") {
  FarmBook farm(1, 8);
  Book& book = farm.book();
  const Id brew = farm.brew();
  const Id pass = done(enter(book, "pass",
                             {{"aim", "leaf"},
                              {"start", "2026-05-14 17:00"},
                              {"rig", "backpack 1"},
                              {"people", "Ana"},
                              {"beds", "N1, N2"}},
                             {}, farm.by_ana()))
                      .record;
  CHECK(text_of(book, pass, "number") == "1");
  const Id load =
      done(enter(book, "load",
                 {{"pass", "1"}, {"number", "1"}, {"brew", "brew 31"}, {"tea", "1 gal"}, {"water", "1 gal"}}, {},
                 farm.by_ana()))
          .record;
  CHECK(text_of(book, load, "mix.brew") == brew.text());
  const Id dose =
      done(enter(book, "dose", {{"load", load.text()}, {"bed", "n-01"}, {"when.finish", "2026-05-14 17:10"}}, {},
                 farm.by_ana()))
          .record;
  CHECK(text_of(book, dose, "what.to") == "100 ft");
  CHECK(text_of(book, dose, "what.how") == "done");
  const Table table = got(table_of(book, "dose"));
  REQUIRE(table.rows.size() == 1);
  const auto cell = [&](std::string_view name) {
    for (std::size_t i = 0; i < table.columns.size(); ++i)
      if (table.columns[i].name == name) return table.rows[0].cells[i];
    return TableCell{"(no column)", CellState::Empty};
  };
  CHECK(cell("bed").text == "N1");
  CHECK(cell("bed_id").text == farm.beds[0].text());
  CHECK(cell("what.to").text == "100 ft");
  CHECK(cell("what.to_si").text == "30.48");
  CHECK(cell("finish").text == "2026-05-14T17:10:00-04:00");
  CHECK(cell("made_by").text == "Ana Leland");

  // Overlapping time on the same bed: asked about, an answer after the fact is the person's.
  const auto twice = enter(book, "dose", {{"load", load.text()}, {"bed", "N1"}, {"when.finish", "2026-05-14 17:10"}},
                           {}, farm.by_ana());
  CHECK(has_caution(got(twice).cautions, "check.same-bed-twice"));
  CHECK(refusal(enter(book, "dose", {{"bed", "N1"}}, {}, farm.by_ana())) == "enter.required");
  CHECK(refusal(enter(book, "dose", {{"color", "red"}}, {}, farm.by_ana())) == "enter.no-field");
  CHECK(refusal(enter(book, "doze", {}, {}, farm.by_ana())) == "table.no-kind");
  CHECK(refusal(enter(book, "dose", {{"load", load.text()}, {"bed", "N77"}}, {}, farm.by_ana())) ==
        "place.bed-not-among");
  CHECK(refusal(enter(book, "dose",
                      {{"load", load.text()},
                       {"bed", "N1"},
                       {"when.start", "2026-05-14 18:10"},
                       {"when.finish", "2026-05-14 18:00"}},
                      {}, farm.by_ana())) == "check.finish-before-start");
  CHECK(refusal(enter(book, "dose", {{"load", load.text()}, {"bed", "N1"}, {"to", "120 ft"}}, {}, farm.by_ana())) ==
        "check.beyond-bed");
  done(amend(book, dose, {{"volume", "0.3 gal"}}, {}, "measured", farm.by_ana()));
  CHECK(text_of(book, dose, "what.volume") == "0.3 gal");
  CHECK(text_of(book, dose, "what.bed") == farm.beds[0].text());
  CHECK(refusal(amend(book, dose, {{"volume", "0.3 gal"}}, {}, " ", farm.by_ana())) == "record.reason-asked");
}

TEST_CASE("a label's rate per 100 gallons of spray is kept as it is written, and is exact") {
  FarmBook farm(1, 1);
  farm.material("Neem oil", "pesticide", true);
  const auto entered = [&](std::string typed) {
    const EnterFields fields = {
        {"material", "Neem oil"}, {"crop", "chard"}, {"rate.amount", std::move(typed)}, {"rate.basis", "per-spray"}};
    const Id line = done(enter(farm.book(), "label-line", fields, {}, farm.by_ana())).record;
    return q(text_of(farm.book(), line, "rate.amount"));
  };
  const Written rate = entered("2 qt per 100 gal");
  CHECK(rate.text == "2 qt/100 gal");
  CHECK(si(rate) == Fraction(1, 200));  // 4 qt = 1 gal
  CHECK(show(rate, {}, Words(Language::English)) == "2 qt/100 gal");
  CHECK(show_parts(rate, {}, Words(Language::Spanish)).speech() == "2 cuartos de galón por 100 galones");
  CHECK(si(entered("8 fl oz/100 gallons")) == Fraction(1, 1600));
  CHECK(si(entered("250 mL / 100 L")) == Fraction(1, 400));
  CHECK(si(entered("1 1/2 lb per 100 gal")) ==
        *Fraction(3, 2).times(*Fraction(45359237, 100000000).over(*Fraction(3785411784, 1000000000000).times(100))));
  CHECK(read_back(farm.book(), "label-line", "rate.amount", "4 oz per 100 gal") == "ask quantity.ask-two");
}

TEST_CASE("striking takes the children along in one act; restoring brings them back") {
  FarmBook farm(1, 4);
  Book& book = farm.book();
  const Id pass = farm.start(farm.choices(farm.brew(), farm.beds));
  farm.spray(pass, farm.beds[0]);
  farm.spray(pass, farm.beds[1]);
  CHECK(got(children_of(book, pass)).size() == 3);
  CHECK(refusal(strike(book, pass, "  ", farm.by_ana())) == "record.reason-asked");
  done(strike(book, pass, "other farm", farm.by_ana()));
  for (const Dose& dose : got(doses_of_pass(book, pass, Struck::Include))) CHECK(dose.struck == "other farm");
  CHECK(refusal(strike(book, pass, "again", farm.by_ana())) == "record.struck-already");
  done(restore(book, pass, true, "it was ours", farm.by_ana()));
  CHECK(got(doses_of_pass(book, pass)).size() == 2);
  CHECK_FALSE(got(read_pass(book, pass)).is_struck());
}

TEST_CASE("restoring brings back what the same act struck, never what was struck by itself") {
  FarmBook farm(1, 4);
  Book& book = farm.book();
  const auto by = farm.by_ana();
  const auto is_struck = [&](const Id& id) { return !got(book.record(id))->struck.empty(); };
  const Id pass = farm.start(farm.choices(farm.brew(), farm.beds));
  farm.spray(pass, farm.beds[0]);
  farm.spray(pass, farm.beds[1]);
  const std::vector<Dose> doses = got(doses_of_pass(book, pass));
  const Id load = doses[0].load;
  SUBCASE("a dose that was never sprayed, its load struck and restored a second time") {
    done(strike(book, load, "oops", by));
    done(restore(book, load, true, "back", by));
    done(strike(book, doses[0].id, "was never sprayed", by));
    done(strike(book, load, "oops again", by));
    done(restore(book, load, true, "back again", by));
    CHECK(is_struck(doses[0].id));
    CHECK_FALSE(is_struck(doses[1].id));
  }
  SUBCASE("one dose alone leaves its parents and its sister struck") {
    done(strike(book, pass, "logged twice", by));
    done(restore(book, doses[1].id, true, "this one was real", by));
    CHECK_FALSE(is_struck(doses[1].id));
    for (const Id& other : {pass, load, doses[0].id}) CHECK(is_struck(other));
  }
  SUBCASE("what was left struck at the last restoring stays so") {
    done(strike(book, pass, "oops", by));
    done(restore(book, pass, false, "back alone", by));
    done(strike(book, pass, "oops again", by));
    done(restore(book, pass, true, "back", by));
    CHECK_FALSE(is_struck(pass));
    CHECK(is_struck(load));
  }
  SUBCASE("'it stays struck' in between is still the same strike") {
    done(strike(book, pass, "oops", by));
    done(stay_struck(book, pass, "seen both", by));
    done(restore(book, pass, true, "back", by));
    for (const Id& one : {pass, load, doses[0].id, doses[1].id}) CHECK_FALSE(is_struck(one));
  }
  SUBCASE("a release struck by itself: the hold holds") {
    const Id hold = done(set_hold(book, farm.beds[2], true, true, {}, "glass", by)).record;
    const auto holds = [&] {
      const BedStates states = got(bed_states(book, farm.farm, farm.now()));
      return states.bed(farm.beds[2])->holds_harvest(farm.now());
    };
    const Id release = done(release_hold(book, hold, "ok", by)).record;
    CHECK_FALSE(holds());
    done(strike(book, hold, "wrong bed", by));
    done(restore(book, hold, true, "right bed", by));
    CHECK_FALSE(holds());
    done(strike(book, release, "glass is still there", by));
    CHECK(holds());
    done(strike(book, hold, "hm", by));
    done(restore(book, hold, true, "no, it holds", by));
    CHECK(holds());
  }
}

TEST_CASE("two beds that are one share what was done; the join can be taken back") {
  FarmBook farm(14, 2);
  Book& book = farm.book();
  const Id block = got(read_bed(book, farm.beds[0])).block;
  const Id twin = add(book, "bed",
                      {reference_value("block", block), text_field_value("name", "N1"),
                       quantity_value("size.length", "100 ft"), quantity_value("size.width", "30 in")});
  bool offered = false;
  for (const OpenQuestion& question : got(open_questions(book)))
    offered = offered || question.kind == QuestionKind::SameThing;
  CHECK(offered);
  const Id pass = farm.start(farm.choices(farm.brew(), {twin}));
  farm.spray(pass, twin);
  CHECK_FALSE(got(bed_states(book, farm.farm, farm.now())).bed(farm.beds[0])->holds_harvest(farm.now()));
  done(join_same(book, twin, farm.beds[0], "written on two phones", farm.by_ana()));
  const BedStates joined = got(bed_states(book, farm.farm, farm.now()));
  CHECK(joined.beds.size() == 2);
  CHECK(joined.bed(farm.beds[0])->holds_harvest(farm.now()));
  CHECK(joined.bed(twin)->bed.id == farm.beds[0]);
  done(part_same(book, twin, "they are two", farm.by_ana()));
  CHECK(got(bed_states(book, farm.farm, farm.now())).beds.size() == 3);
  done(say_not_same(book, twin, farm.beds[0], farm.by_ana()));
  for (const OpenQuestion& question : got(open_questions(book))) CHECK(question.kind != QuestionKind::SameThing);
}

TEST_CASE("a block as people write it") {
  const Habits us;
  const BlockGiven north = got(read_block_line("North, 24 beds, 100 ft × 30 in", us, System::Us));
  CHECK(north.name == "North");
  CHECK(north.beds == 24);
  CHECK(north.length->text == "100 ft");
  CHECK(north.width->text == "30 in");
  const BlockGiven tunel = got(read_block_line("Túnel, 8 camas, 24 m x 75 cm", us, System::Metric));
  CHECK(tunel.kind == "tunnel");
  CHECK(tunel.width->text == "75 cm");
  CHECK(got(read_block_line("Creek, 12", us, System::Us)).beds == 12);
  CHECK(refusal(read_block_line("Creek", us, System::Us)) == "start.block-line");
  CHECK(refusal(read_block_line("Creek, many beds", us, System::Us)) == "start.block-line");
  CHECK(refusal(read_block_line("Creek, 3 beds, long", us, System::Us)) == "start.block-size");
}

TEST_CASE("codes: bare for the copy that counted first, with its letters for every other") {
  FarmBook ana(1, 4);
  const Id brew = ana.brew();
  const Id pass = ana.start(ana.choices(brew, ana.beds));
  EndRequest ending;
  ending.pass = pass;
  ending.weather.not_taken = true;
  done(end_pass(ana.book(), ending, ana.by_ana("tank was not read")));
  Copy marek("Marek's phone", 9);
  marek.checks = begin_checks;
  marek.open();
  meet(ana.copy, marek);
  const Id other = add(*marek.book, "pass",
                       {reference_value("farm", ana.farm),
                        number_value("number", std::to_string(got(Codes::read(*marek.book)).next("pass"))),
                        word_value("aim", "leaf"), instant_value("start", marek.book->now()), not_taken("finish")});
  meet(ana.copy, marek);
  for (const Book* book : {&ana.book(), marek.book.get()}) {
    const Codes codes = got(Codes::read(*book));
    CHECK(codes.text(pass) == "1");
    CHECK(codes.text(other) == "1 " + short_code(marek.book->copy()));
    CHECK(got(codes.find("pass", "pass 1")) == pass);
    CHECK(got(codes.find("pass", "1 " + short_code(marek.book->copy()))) == other);
  }
  CHECK(got(Codes::read(ana.book())).next("pass") == 2);
}

TEST_CASE(
    "the corners of a bed are places that enclose ground, or are refused; wrong texts name what their field takes") {
  FarmBook farm(1, 2);
  const Book& book = farm.book();
  const std::string corners = "44.5646 -123.2620; 44.5650 -123.2620; 44.5650, -123.2614";
  CHECK(read_back(book, "bed", "size.polygon", corners) == corners);
  CHECK(read_back(book, "bed", "size.polygon", "tontería") == "no enter.corners");
  CHECK(read_back(book, "bed", "size.polygon", "44.5646 -123.2620; 44.5650 -123.2620") == "no area.few-vertices");
  CHECK(read_back(book, "bed", "size.polygon", "94 10; 95 10; 95 11") == "no area.place");
  CHECK(read_back(book, "reading", "value.value", "nice") == "no enter.word");
  CHECK(read_back(book, "planting", "plants", "many") == "no enter.number");
  CHECK(read_back(book, "dose", "what.volume", "many") == "no quantity.not-volume");
}

TEST_CASE("a bed given by its corners has the area within them, for rates, doses and sums alike") {
  FarmBook farm(1, 2);
  Book& book = farm.book();
  // 1.2 m × 30 m laid out on the ellipsoid: 35.9996 m² (GeographicLib 2.0).
  const std::string corners =
      "44.564600000 -123.262000000; 44.564853689 -123.261870841; 44.564849996 -123.261856646; 44.564596307 "
      "-123.261985806";
  const auto drawn = [&](std::string name, EnterFields more) {
    EnterFields fields{{"block", "North"}, {"name", std::move(name)}, {"polygon", corners}};
    fields.insert(fields.end(), more.begin(), more.end());
    return got(read_bed(book, done(enter(book, "bed", fields, {}, farm.by_ana("odd ground"))).record));
  };
  const double m2 = 35.9996;
  const Bed plain = drawn("P1", {});
  CHECK(plain.area()->square_meters() == doctest::Approx(m2).epsilon(1e-5));
  CHECK(plain.length->meters() == doctest::Approx(30).epsilon(1e-3));
  CHECK(plain.width->meters() == doctest::Approx(1.2).epsilon(1e-3));
  const Bed with_length = drawn("P2", {{"length", "40 m"}});
  CHECK(with_length.length->meters() == doctest::Approx(40));
  CHECK(with_length.area()->square_meters() == doctest::Approx(m2).epsilon(1e-5));
  const Bed measured = drawn("P3", {{"length", "100 ft"}, {"width", "30 in"}});
  CHECK(measured.area()->square_feet() == doctest::Approx(250));

  const Id brew = farm.brew();
  const Id pass = farm.start(farm.choices(brew, {plain.id}), "odd ground");
  farm.spray(pass, plain.id);
  const Places places = got(read_places(book, farm.farm));
  const std::vector<Dose> doses = got(doses_on_bed(book, plain.id));
  REQUIRE(doses.size() == 1);
  CHECK(doses[0].area().square_meters() == doctest::Approx(m2).epsilon(2e-3));
  CHECK(places.bed(plain.id)->area()->square_meters() == doctest::Approx(m2).epsilon(1e-5));

  // Entered afterwards, a bed without a stretch is meant whole here too.
  const Id load = add(book, "load", {reference_value("pass", pass), number_value("number", "7")});
  const Outcome entered = done(enter(book, "dose",
                                     {{"load", load.text()},
                                      {"bed", with_length.id.text()},
                                      {"start", "2026-05-14 07:00"},
                                      {"finish", "2026-05-14 07:10"}},
                                     {}, farm.by_ana("noted on paper")));
  const Dose dose = got(read_dose(book, entered.record));
  CHECK(dose.area().square_meters() == doctest::Approx(m2).epsilon(2e-3));
}

TEST_CASE("times of a calculation that name their difference from world time are that moment, in whatever zone") {
  const Calculation& hold = *find_calculation("hold");
  const Moment now = kMarch.at;
  const auto until = [&](std::string finish, std::string zone) {
    std::vector<Typed> typed{{"finish", std::move(finish)}, {"entry", "B; 4 h"}, {"zone", std::move(zone)}};
    const auto normal = in_normal_form(hold, typed, {}, Zone(), now);
    REQUIRE(normal);
    const auto inputs = read_inputs(hold, *normal, {});
    REQUIRE(inputs);
    const auto answer = hold.run(*inputs);
    if (!answer) return std::string(answer.error().word.key);
    for (const ResultValue& result : answer->results)
      if (result.name == "no-entry-until") return result.text;
    return std::string("(none)");
  };
  const std::string new_york = "America/New_York";
  CHECK(until("2026-06-03 18:20", new_york) == "2026-06-03 22:20");
  CHECK(until("2026-06-03T18:20:00-04:00", new_york) == "2026-06-03 22:20");
  CHECK(until("2026-06-03T22:20:00Z", new_york) == "2026-06-03 22:20");  // 18:20 there.
  CHECK(until("2026-06-03T22:20Z", new_york) == "2026-06-03 22:20");
  CHECK(until("2026-06-03T18:20:00-04:00", "America/Los_Angeles") == "2026-06-03 19:20");
  // The second 01:30 of the night that has two.
  CHECK(until("1 nov 2026 1:30 am -05:00", new_york) == "2026-11-01 05:30");
  CHECK(until("2026-11-01T01:30:00-04:00", new_york) == "2026-11-01 04:30");
}

TEST_CASE(
    "a reading entered as fields meets the checks of one that is typed at the brew, and a note is of anything with a "
    "name") {
  FarmBook farm(1, 4);
  Book& book = farm.book();
  const Id brew = farm.brew();
  const std::string code = "brew " + got(Codes::read(book)).text(brew);
  const auto reading = [&](std::string_view quantity, std::string_view value, std::string reason = {}) {
    return enter(book, "reading", {{"of", code}, {"quantity", std::string(quantity)}, {"value", std::string(value)}},
                 {}, farm.by_ana(std::move(reason)));
  };
  const Outcome freezing = got(reading("temperature", "20 F"));
  CHECK_FALSE(freezing.written);
  CHECK(has_caution(freezing.cautions, "check.freezing"));
  CHECK(got(reading("temperature", "20 F", "ice in the barrel")).written);
  CHECK(refusal(reading("ph", "15")) == "check.ph");
  CHECK(got(reading("oxygen", "7 mg/L")).cautions.empty());
  CHECK(got(reading("smell", "earthy")).written);
  CHECK(got(enter(book, "note", {{"of", code}, {"text", "moved to the shade"}}, {}, farm.by_ana())).written);
}

// A client's farm in another zone: the clock on its wall is the one that people read.
TEST_CASE("a time is that of the farm it is about; a pass goes over its own farm's beds") {
  FarmBook east(1, 3);
  Book& book = east.book();
  FarmGiven given;
  given.name = "Mesa";
  given.zone_name = "America/Denver";
  given.tea_wait_days = 1;
  BlockGiven block;
  block.name = "South";
  block.beds = 3;
  block.length = q("100 ft");
  block.width = q("30 in");
  given.blocks.push_back(block);
  const StartedFarm mesa = got(start_farm(book, given, east.by_ana()));
  const auto enter_here = [&](std::string_view kind, const EnterFields& fields, const Id& farm = {}) {
    EnterAs as;
    as.farm = farm;
    return enter(book, kind, fields, as, east.by_ana("written down later"));
  };
  const Id pass =
      done(enter_here("pass",
                      {{"farm", mesa.farm.text()}, {"number", "7"}, {"aim", "leaf"}, {"start", "2026-05-13 07:00"}},
                      mesa.farm))
          .record;
  const Id load =
      done(enter_here("load", {{"pass", pass.text()}, {"number", "1"}, {"filled", "2026-05-13 06:50"}})).record;
  CHECK(text_of(book, load, "filled") == "2026-05-13T06:50:00-06:00");
  // Of the farm that was named last only where nothing else says which.
  const Id dose =
      done(enter_here("dose", {{"load", load.text()}, {"bed", mesa.beds[0].text()}, {"finish", "2026-05-13 07:10"}},
                      east.farm))
          .record;
  CHECK(text_of(book, dose, "when.finish") == "2026-05-13T07:10:00-06:00");
  CHECK(refusal(enter_here("dose",
                           {{"load", load.text()}, {"bed", east.beds[0].text()}, {"finish", "2026-05-13 07:10"}})) ==
        "enter.other-farm");
  // A brew lies on no farm: of two zones one is asked for, an hour with its zone is none to ask about.
  CHECK(refusal(enter_here("brew", {{"met_water", "2026-05-12 17:00"}})) == "enter.whose-time");
  CHECK(text_of(book, done(enter_here("brew", {{"met_water", "2026-05-12 17:00"}}, mesa.farm)).record, "met_water") ==
        "2026-05-12T17:00:00-06:00");
  CHECK(done(enter_here("brew", {{"met_water", "2026-05-12T17:00:00-06:00"}})).written);
  EnterAs as;
  CHECK(done(amend(book, dose, {{"finish", "2026-05-13 07:12"}}, as, "misread", east.by_ana())).written);
  CHECK(text_of(book, dose, "when.finish") == "2026-05-13T07:12:00-06:00");
}
