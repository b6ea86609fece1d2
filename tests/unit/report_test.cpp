#include "book/report_data.h"

#include <cctype>
#include <set>

#include "base/text.h"
#include "book/audit.h"
#include "book/enter.h"
#include "book/kinds.h"
#include "book/told.h"
#include "book/trace.h"
#include "demo/demo.h"
#include "paper/csv.h"
#include "paper/html.h"
#include "paper/inspection.h"
#include "paper/paper_sheet.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

constexpr Date kDay14{2026, 5, 14};

/// Two blocks whose beds bear the same names, B1–B4 of 100 ft: what one pass did on them.
struct TwoBlocks {
  TwoBlocks() : farm(1, 1) {
    north = block("North side"), south = block("South side");
    for (int i = 1; i <= 4; ++i) {
      north_beds.push_back(bed(north, "B" + std::to_string(i)));
      south_beds.push_back(bed(south, "B" + std::to_string(i)));
    }
    pass = add(farm.book(), "pass",
               {reference_value("farm", farm.farm), number_value("number", "7"), word_value("aim", "leaf"),
                instant_value("start", start())});
    load = add(farm.book(), "load", {reference_value("pass", pass), number_value("number", "1")});
  }
  static Stamp start() { return *parse_stamp("2026-05-14T07:00:00-04:00"); }
  Id block(std::string name) {
    return add(farm.book(), "block", {reference_value("farm", farm.farm), text_field_value("name", name)});
  }
  Id bed(const Id& of, std::string name) {
    return add(farm.book(), "bed",
               {reference_value("block", of), text_field_value("name", name), quantity_value("size.length", "100 ft"),
                quantity_value("size.width", "30 in")});
  }
  Id spray(const Id& on, std::string from = "0 ft", std::string to = "100 ft") {
    minutes += 10;
    return add(farm.book(), "dose",
               {reference_value("what.load", load), reference_value("what.bed", on), quantity_value("what.from", from),
                quantity_value("what.to", to), quantity_value("what.width", "30 in"), word_value("what.how", "done"),
                instant_value("when.finish", {start().at + minutes * kMinute, start().offset_minutes})});
  }
  ReportPass told() const { return got(report_data(farm.book(), farm.farm, kDay14, kDay14)).passes.at(0); }

  FarmBook farm;
  Id north, south, pass, load;
  std::vector<Id> north_beds, south_beds;
  std::int64_t minutes = 0;
};

}  // namespace

TEST_CASE(
    "a report names a bed done in part only as a part, each stretch once, and the block where a name is not "
    "enough") {
  TwoBlocks two;
  two.spray(two.north_beds[0]);
  two.spray(two.south_beds[0]);
  two.spray(two.north_beds[1], "0 ft", "40 ft");
  two.spray(two.north_beds[2], "0 ft", "60 ft");
  two.spray(two.north_beds[2], "0 ft", "60 ft");
  two.spray(two.north_beds[3]);
  const ReportPass pass = two.told();
  CHECK(pass.beds == "North side B1, North side B4, South side B1");
  REQUIRE(pass.parts.size() == 2);
  CHECK(pass.parts[0].first == "North side B2");
  CHECK(pass.parts[0].second.feet() == doctest::Approx(40));
  CHECK(pass.parts[1].first == "North side B3");
  CHECK(pass.parts[1].second.feet() == doctest::Approx(60));
  CHECK(pass.doses[1].bed == "South side B1");
}

TEST_CASE("ranges of a report join neighbors by name within their block") {
  TwoBlocks two;
  for (const int i : {0, 2, 3}) two.spray(two.south_beds[static_cast<std::size_t>(i)]);
  two.spray(two.farm.beds[0]);
  CHECK(two.told().beds == "N1, South side B1, South side B3, South side B4");
  // Two stretches that meet are a whole bed.
  two.spray(two.south_beds[1], "0 ft", "50 ft");
  two.spray(two.south_beds[1], "50 ft", "100 ft");
  CHECK(two.told().beds == "N1, South side B1–B4");
  CHECK(two.told().parts.empty());
  // Somebody walks them in another order: a range still holds no bed that was not sprayed.
  std::vector<std::string> order;
  for (const int i : {0, 2, 1, 3}) order.push_back(two.north_beds[static_cast<std::size_t>(i)].text());
  edit(two.farm.book(), two.north, {list_value("order", order)});
  two.spray(two.north_beds[0]);
  two.spray(two.north_beds[2]);
  CHECK(two.told().beds == "N1, North side B1, North side B3, South side B1–B4");
}

TEST_CASE("two records of one bed are one bed of a report") {
  TwoBlocks two;
  const Id again = two.bed(two.north, "B9");
  edit(two.farm.book(), again, {reference_value("same_as", two.north_beds[0])});
  two.spray(two.north_beds[0], "0 ft", "50 ft");
  two.spray(again, "50 ft", "100 ft");
  const ReportPass pass = two.told();
  CHECK(pass.beds == "North side B1");
  CHECK(pass.parts.empty());
}

TEST_CASE("a report lists the crops of the stretch that was sprayed") {
  TwoBlocks two;
  const auto plant = [&](std::string crop, std::string from, std::string to) {
    add(two.farm.book(), "planting",
        {reference_value("bed", two.north_beds[0]), text_field_value("crop", crop),
         quantity_value("stretch.from", from), quantity_value("stretch.to", to), date_value("planted", {2026, 4, 9})});
  };
  plant("radish", "0 ft", "40 ft");
  plant("spinach, baby", "40 ft", "100 ft");
  two.spray(two.north_beds[0], "0 ft", "40 ft");
  CHECK(two.told().doses[0].crops == std::vector<std::string>{"radish"});
  CHECK(two.told().crops == "radish");
  two.spray(two.north_beds[0], "39 ft", "100 ft");
  CHECK(two.told().doses[1].crops == std::vector<std::string>{"radish", "spinach, baby"});
  add(two.farm.book(), "harvest",
      {reference_value("bed", two.north_beds[0]), quantity_value("stretch.from", "40 ft"),
       quantity_value("stretch.to", "100 ft"), instant_value("at", TwoBlocks::start())});
  CHECK(got(report_data(two.farm.book(), two.farm.farm, kDay14, kDay14)).harvests.at(0).crop == "spinach, baby");
}

TEST_CASE("a bed whose name another block has too is told with its block") {
  TwoBlocks two;
  const Book& book = two.farm.book();
  const Id dose = two.spray(two.south_beds[0]);
  CHECK(record_name(book, two.south_beds[0]) == "South side B1");
  CHECK(record_name(book, two.farm.beds[0]) == "N1");
  CHECK(record_name(book, dose) == "South side B1");
  const Trace trace = got(trace_forward(book, two.load));
  CHECK(std::any_of(trace.nodes.begin(), trace.nodes.end(),
                    [](const TraceNode& node) { return node.name == "South side B1"; }));
  CHECK(csv_text(got(table_of(book, "dose"))).find("South side B1") != std::string::npos);
  edit(two.farm.book(), two.north_beds[0], {text_field_value("struck", "dug up")});
  CHECK(record_name(book, two.south_beds[0]) == "B1");
}

TEST_CASE("a paper of rows keeps to the farm and the days asked for") {
  TwoBlocks two;
  Book& book = two.farm.book();
  two.spray(two.farm.beds[0]);
  FarmGiven given;
  given.name = "Mesa";
  given.zone_name = "America/New_York";
  BlockGiven east;
  east.name = "East";
  east.beds = 2;
  east.length = q("50 ft");
  given.blocks.push_back(east);
  const StartedFarm mesa = got(start_farm(book, given, {}));
  const auto lines = [&](std::string_view kind, const TableOptions& options) {
    const std::string text = got(csv_file(book, kind, options)).bytes;
    return std::count(text.begin(), text.end(), '\n') - 1;
  };
  TableOptions options;
  options.farm = mesa.farm;
  CHECK(lines("bed", options) == 2);
  CHECK(lines("dose", options) == 0);
  options.farm = two.farm.farm;
  CHECK(lines("bed", options) == 9);
  options.from = options.to = kDay14;
  CHECK(lines("dose", options) == 1);
  options.from = options.to = kDay14 + 1;
  CHECK(lines("dose", options) == 0);
  options.to = kDay14;
  CHECK(refusal(csv_file(book, "dose", options)) == "table.days");
  CHECK(refusal(report_data(book, two.farm.farm, kDay14 + 1, kDay14)) == "table.days");
  CHECK(is_of_a_time("dose"));
  CHECK_FALSE(is_of_a_time("bed"));
}

// ---- The page ------------------------------------------------------------------------------------

namespace {

std::string page_of(const Book& book, const Id& farm, Date from, Date to, Language language = Language::English,
                    System system = System::Us) {
  UnitsShown units;
  units.system = system;
  units.clock = language == Language::English ? Clock::Hours12 : Clock::Hours24;
  return inspection_page(got(report_data(book, farm, from, to)), Words(language), units).bytes;
}
bool says(const std::string& page, std::string_view text) { return page.find(text) != std::string::npos; }

/// Cells side by side whose texts are never wrapped.
std::string cells(std::initializer_list<std::string_view> texts) {
  std::string html;
  for (const std::string_view text : texts) html += "<td><span class=\"w\">" + std::string(text) + "</span></td>\n";
  return html;
}

/// The text between the tags, for words to be looked for in.
std::string text_of_page(const std::string& page) {
  std::string text;
  bool in_tag = false;
  for (const char c : page.substr(page.find("<body>"))) {
    if (c == '<') in_tag = true;
    text += in_tag ? ' ' : c;
    if (c == '>') in_tag = false;
  }
  return text;
}

/// Everything that people wrote in their own words or names.
std::vector<std::string> own_words(const Book& book) {
  std::vector<std::string> texts;
  for (const KindDef& kind : kinds()) {
    const Table table = got(table_of(book, kind.name));
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
      const FieldDef* field = find_field(kind, table.columns[i].field);
      if (!field || field->types != "t" || field->key == "struck" || field->key == "held") continue;
      for (const TableRow& row : table.rows) texts.push_back(escape_html(row.cells[i].text));
    }
  }
  std::sort(texts.begin(), texts.end(), [](const auto& a, const auto& b) { return a.size() > b.size(); });
  return texts;
}

bool has_word(const std::string& text, std::string_view word) {
  const auto letter = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) || c == '-' || c < 0; };
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    if ((at == 0 || !letter(text[at - 1])) && (end >= text.size() || !letter(text[end]))) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("the Spanish report of the demo farm has no stored word in it") {
  DemoWish wish;
  wish.now = Moment{kSpring2026};
  wish.zone_name = "America/New_York";
  Copy device("Ana's phone", 7);
  device.book.reset();
  REQUIRE(make_demo(device.place(), wish));
  device.open();
  const Book& book = *device.book;
  const Id farm = got(farms(book)).at(0).id;
  std::string text = text_of_page(page_of(book, farm, {2026, 1, 1}, kDay14, Language::Spanish));
  CHECK(says(text, "Olor a tierra"));
  CHECK(says(text, "no usar"));
  CHECK(says(text, "anotado dos veces"));
  CHECK(says(text, "Té 13"));
  for (const std::string& own : own_words(book))
    for (std::size_t at = own.size() < 2 ? std::string::npos : text.find(own); at != std::string::npos;
         at = text.find(own, at))
      text.replace(at, own.size(), " ");
  std::set<std::string> words{"brew", "logged", "undone", "yes", "not taken"};
  for (const KindDef& kind : kinds()) {
    words.emplace(kind.name);
    for (const FieldDef& field : kind.fields) {
      if (!field.types.starts_with("r"))
        for (const std::string_view word : split(field.of, '|')) words.emplace(word);
    }
  }
  // Words that are Spanish as well: a language, a part of the sentences, what both languages call alike.
  for (const char* both : {"", "en", "es", "no", "us", "ph", "ec", "g", "ml", "real", "pasar", "plan", "total"})
    words.erase(both);
  for (const std::string& word : words) {
    CAPTURE(word);
    CHECK_FALSE(has_word(text, word));
  }
}

TEST_CASE("a reading and a bed of another day carry their day") {
  TwoBlocks two;
  Book& book = two.farm.book();
  const auto at = [](std::string_view text) { return *parse_stamp(text); };
  const Id brew =
      add(book, "brew", {number_value("number", "31"), instant_value("met_water", at("2026-05-13T18:00:00-04:00"))});
  const auto reading = [&](std::string quantity, FieldValue value, std::string_view when) {
    add(book, "reading",
        {reference_value("of", brew), word_value("quantity", quantity), value, instant_value("at", at(when))});
  };
  reading("temperature", quantity_value("value.value", "66 degF"), "2026-05-13T22:00:00-04:00");
  reading("ph", number_value("value.value", "7.5"), "2026-05-14T05:00:00-04:00");
  reading("foam", word_value("value.value", "over"), "2026-05-14T05:00:00-04:00");
  edit(book, two.load, {reference_value("mix.brew", brew)});
  two.spray(two.farm.beds[0]);
  add(book, "dose",
      {reference_value("what.load", two.load), reference_value("what.bed", two.north_beds[0]),
       quantity_value("what.from", "0 ft"), quantity_value("what.to", "100 ft"), quantity_value("what.width", "30 in"),
       word_value("what.how", "done"), instant_value("when.finish", at("2026-05-15T00:10:00-04:00"))});
  const std::string page = page_of(book, two.farm.farm, kDay14, kDay14);
  // All of it was written on the evening of 14 May.
  const std::string later = " (written 14 May 2026, 6:00 pm)";
  CHECK(says(page,
             "10:00 pm Temperature 66 °F" + later + "; 14 May 5:00 am pH 7.5" + later + ", Foam over the rim" + later));
  CHECK(says(page, ">7:10 am<"));
  CHECK(says(page, ">15 May 12:10 am<"));
}

TEST_CASE("sums and waits of a report in forms that are read one way") {
  TwoBlocks two;
  Book& book = two.farm.book();
  two.spray(two.farm.beds[0]);
  two.spray(two.north_beds[0]);
  add(book, "pass",
      {reference_value("farm", two.farm.farm), number_value("number", "8"), word_value("aim", "leaf"),
       instant_value("start", TwoBlocks::start())});
  const std::string page = page_of(book, two.farm.farm, kDay14, kDay14);
  CHECK(says(page, "500 sq ft bed top"));
  // Two passes stand in the table; on one of them no bed was sprayed, and the other took no tea.
  CHECK(says(page, "other sprays, 1 pass, 200 ft of bed"));
  CHECK(says(page, "<b>1 pass</b>\nwith no sprayed bed that counts"));
  CHECK_FALSE(says(page, "0 passes"));
  for (int i = 0; i < 53; ++i) two.spray(two.farm.beds[0]);
  const std::string more = page_of(book, two.farm.farm, kDay14, kDay14);
  CHECK(says(more, "5500 ft of bed"));
  CHECK(says(more, "0.316 acres bed top"));
  CHECK(says(page_of(book, two.farm.farm, kDay14, kDay14, Language::English, System::Metric), "1676 m of bed"));

  const PaperSheet sheet{got(report_data(book, two.farm.farm, kDay14, kDay14)), Words(Language::English), {}};
  const Zone& zone = sheet.data.farm.zone;
  const Moment a = zone.start_of(kDay14), b = zone.start_of(kDay14 + 1);
  using Lines = std::vector<std::string>;
  CHECK(sheet.first_and_last(a, b) == Lines{"14 May 2026 –", "15 May 2026"});
  CHECK(sheet.first_and_last(a + kHour, a + 2 * kHour) == Lines{"14 May 2026", "1:00–2:00 am"});
  CHECK(sheet.first_and_last(a + kHour, b + kHour) == Lines{"14 May 2026, 1:00 am –", "15 May 2026, 1:00 am"});
  CHECK(sheet.first_and_last(a, a) == Lines{"14 May 2026"});
  CHECK(sheet.span(a + kHour, {}) == Lines{"from 14 May 2026", "1:00 am"});
  CHECK(sheet.span(a + 11 * kHour, a + 13 * kHour) == Lines{"14 May 2026", "11:00 am–1:00 pm"});

  const Id load = add(book, "load", {reference_value("pass", two.pass)});
  CHECK(record_name(book, load) == "7 / ?");
}

TEST_CASE("a report names the days and hours of each rule, what is not known of the tea, and days with their year") {
  TwoBlocks two;
  Book& book = two.farm.book();
  edit(book, two.load,
       {reference_value("mix.brew", two.farm.brew()), not_taken("mix.tea"), quantity_value("mix.water", "1 gal")});
  const Id dose = two.spray(two.north_beds[0]);
  edit(book, dose,
       {reference_value("what.load", two.load), reference_value("what.bed", two.north_beds[0]),
        quantity_value("what.from", "0 ft"), quantity_value("what.to", "100 ft"), quantity_value("what.width", "30 in"),
        quantity_value("what.volume", "0.5 gal"), word_value("what.how", "done")});
  const Id sulfur = two.farm.material("Wettable sulfur", "pesticide", true);
  add(book, "label-line",
      {reference_value("material", sulfur), quantity_value("wait.harvest", "3 day"),
       quantity_value("wait.entry", "24 h")});
  add(book, "load-line",
      {reference_value("load", two.load), reference_value("amount.lot", two.farm.lot(sulfur, "S-31", "1 kg"))});
  // Another pass was over the same bed in the same minutes.
  const Id pass = add(book, "pass",
                      {reference_value("farm", two.farm.farm), number_value("number", "8"), word_value("aim", "leaf"),
                       instant_value("start", two.start())});
  const Id load = add(book, "load", {reference_value("pass", pass), number_value("number", "1")});
  add(book, "dose",
      {reference_value("what.load", load), reference_value("what.bed", two.north_beds[0]),
       quantity_value("what.from", "0 ft"), quantity_value("what.to", "100 ft"), word_value("what.how", "done"),
       instant_value("when.start", two.start()),
       instant_value("when.finish", {two.start().at + 10 * kMinute, two.start().offset_minutes})});
  const std::string page = page_of(book, two.farm.farm, kDay14, kDay14);
  CHECK(says(page, "farm rule (Alder Reach), Ana Leland: 1 day"));
  CHECK(says(page, "label: Wettable sulfur: 3 days"));
  CHECK(says(page, "label: Wettable sulfur: 24 hours"));
  CHECK(says(page, "0.5 gal spray; 1 bed without its part of tea"));
  CHECK(says(page, "Thu 14 May 2026, 7:10 am: same bed, twice?"));
}

TEST_CASE("a report tells each tankful, where its rest went, and of each bed its load, area and time") {
  TwoBlocks two;
  Book& book = two.farm.book();
  const Id kelp = two.farm.lot(two.farm.material("Kelp", "microbe-food", false), "K-19", "2 gal");
  const Id brew = two.farm.brew();
  edit(book, two.load,
       {reference_value("mix.brew", brew), quantity_value("mix.tea", "1 gal"),
        reference_value("mix.source", two.farm.well), quantity_value("mix.water", "2 gal"),
        instant_value("filled", TwoBlocks::start()), quantity_value("left", "0.5 gal"),
        text_field_value("before.held", "brew 30"), yes_no_value("before.cleaned", false)});
  add(book, "load-line",
      {reference_value("load", two.load), reference_value("amount.lot", kelp),
       quantity_value("amount.amount", "3 fl oz")});
  add(book, "discard",
      {reference_value("of", two.load), quantity_value("volume", "0.5 gal"),
       reference_value("where.place", two.north_beds[3]), text_field_value("where.words", "on the path")});
  two.spray(two.north_beds[0]);
  const std::string one = page_of(book, two.farm.farm, kDay14, kDay14);
  CHECK(says(
      one,
      "Load 1: 1 gal tea of brew 31, 2 gal water from Well, Kelp, lot K-19, 3 fl oz · filled 7:00 am · left in the "
      "tank 0.5 gal · poured out 0.5 gal, Bed North side B4, on the path · the tank held before: Brew 30, not "
      "cleaned since"));
  CHECK_FALSE(says(one, "Load</th>"));
  // Of two tankfuls each bed says which; the second holds what nobody measured.
  const Id second = add(book, "load",
                        {reference_value("pass", two.pass), number_value("number", "2"), not_taken("mix.water"),
                         not_taken("left"), not_taken("before.held")});
  add(book, "dose",
      {reference_value("what.load", second), reference_value("what.bed", two.north_beds[1]),
       quantity_value("what.from", "60 ft"), quantity_value("what.to", "100 ft"), quantity_value("what.width", "30 in"),
       word_value("what.how", "part"), instant_value("when.start", *parse_stamp("2026-05-14T07:20:00-04:00")),
       instant_value("when.finish", *parse_stamp("2026-05-14T07:24:00-04:00")), text_field_value("note", "clogged")});
  const std::string page = page_of(book, two.farm.farm, kDay14, kDay14);
  CHECK(says(page, cells({"1", "0 to 100 ft", "250 sq ft", "7:10 am"})));
  CHECK(says(page, cells({"2", "60 to 100 ft", "100 sq ft", "7:20–7:24 am"})));
  CHECK(says(page, "4 gal left"));
  CHECK_FALSE(says(page, "at most 4 gal left"));
  edit(book, second, {reference_value("mix.brew", brew), not_taken("mix.tea"), not_taken("mix.water")});
  CHECK(says(page_of(book, two.farm.farm, kDay14, kDay14), "at most 4 gal left"));
  CHECK(says(page, "Load 2: not taken water · left in the tank not taken · the tank held before: not known"));
  const std::string spanish = page_of(book, two.farm.farm, kDay14, kDay14, Language::Spanish);
  CHECK(says(spanish, "Carga 1: 1 gal de té 31, 2 gal de agua de Well"));
  CHECK(says(spanish, "el tanque llevaba antes: Té 30, sin limpiar después"));
  // What was struck keeps its stretch.
  const Id wrong = two.spray(two.north_beds[2], "0 ft", "40 ft");
  edit(book, wrong, {text_field_value("struck", "the next bed was meant")});
  CHECK(says(page_of(book, two.farm.farm, kDay14, kDay14), "<s>North side B3, 0 to 40 ft</s>"));
}

TEST_CASE("a report says what was written over an hour later, and from what") {
  TwoBlocks two;  // Its clock shows 6 pm.
  Book& book = two.farm.book();
  const auto dose = [&](std::string finish, std::vector<FieldValue> more) {
    std::vector<FieldValue> fields = {reference_value("what.load", two.load),
                                      reference_value("what.bed", two.north_beds[0]),
                                      quantity_value("what.from", "0 ft"),
                                      quantity_value("what.to", "100 ft"),
                                      quantity_value("what.width", "30 in"),
                                      word_value("what.how", "done"),
                                      instant_value("when.finish", *parse_stamp("2026-05-14T" + finish + ":00-04:00"))};
    fields.insert(fields.end(), more.begin(), more.end());
    return add(book, "dose", fields);
  };
  dose("17:10", {});
  CHECK_FALSE(two.told().doses.at(0).late);
  dose("16:50", {});
  dose("17:20", {word_value("late.from", "paper")});
  const ReportPass pass = two.told();  // By their finish.
  CHECK(pass.doses.at(0).late);
  CHECK_FALSE(pass.doses.at(1).late);
  CHECK(pass.doses.at(2).late);
  add(book, "harvest",
      {reference_value("bed", two.north_beds[1]), instant_value("at", TwoBlocks::start()),
       text_field_value("code", "H-1")});
  const std::string page = page_of(book, two.farm.farm, kDay14, kDay14);
  CHECK(says(page, ">written 14 May 2026, 6:00 pm</td>"));
  CHECK(says(page, ">written 14 May 2026, 6:00 pm, from paper</td>"));
  CHECK(says(page, "<td>14 May 2026, 7:00 am (written 14 May 2026, 6:00 pm)</td>"));
}

TEST_CASE("a report tells a brew's air, food, water, and on which place it was poured out") {
  TwoBlocks two;
  Book& book = two.farm.book();
  const Id brew = two.farm.brew(1);
  const Stamp from = *parse_stamp("2026-05-14T08:00:00-04:00");
  edit(book, brew,
       {reference_value("water", two.farm.well), word_value("treatment.how", "aerate"),
        instant_value("treatment.from", from), instant_value("treatment.to", {from.at + 2 * kHour, -240})});
  add(book, "event",
      {reference_value("brew", brew), word_value("what", "fed"), quantity_value("amount", "1/2 cup"),
       text_field_value("note", "kelp"), instant_value("at", {two.farm.now(), -240})});
  add(book, "discard",
      {reference_value("of", brew), quantity_value("volume", "2 gal"), reference_value("where.place", two.north)});
  const std::string page = page_of(book, two.farm.farm, kDay14, kDay14);
  CHECK(says(page,
             "on 14 May 2026</span><br><span class=\"w\">5:00 pm</span><br><span class=\"w\">off not written down"));
  CHECK(says(page, "Well, aerated, 14 May 2026, 8:00–10:00 am"));
  CHECK(says(page, "fed 1/2 cup, kelp"));
  CHECK(says(page, "<td>2 gal, Block North side</td>"));
}

TEST_CASE("a report gives the reason why something was written all the same, or corrected") {
  TwoBlocks two;
  Book& book = two.farm.book();
  const Id dose = two.spray(two.north_beds[0]);
  CHECK(got(report_data(book, two.farm.farm, kDay14, kDay14)).reasons.empty());
  const EnterAs as{Habits(), two.farm.farm};
  const auto amended = [&](const Id& record, const char* field, const char* value, const char* why) {
    return got(amend(book, record, {{field, value}}, as, why, {two.farm.ana, "it is so", true})).written;
  };
  REQUIRE(amended(dose, "to", "60 ft", "read <wrong>"));
  REQUIRE(amended(two.pass, "weather_start.wind", "45 mph", "the meter was read late"));
  const Id brew = two.farm.brew();
  REQUIRE(amended(brew, "fill", "6 gal", "read again"));
  edit(book, two.load, {reference_value("mix.brew", brew)});
  REQUIRE(amended(two.load, "water", "2 gal", "filled to the mark"));
  const Id picked =
      got(enter(book, "harvest", {{"bed", two.north_beds[0].text()}, {"at", "2026-05-14 08:00"}, {"code", "H-1"}}, as,
                {two.farm.ana, "the customer was waiting", true}))
          .record;
  CHECK_FALSE(picked.is_nil());
  const std::string page = page_of(book, two.farm.farm, kDay14, kDay14);
  CHECK(says(page, "reason: read &lt;wrong&gt;</td>"));
  CHECK(says(page, "reason: the meter was read late; it is so</td>"));
  CHECK(says(page, "reason: filled to the mark"));
  CHECK(says(page, "<td>31 (reason: read again)<br>"));
  CHECK(says(page, "reason: the customer was waiting)</td>"));
}

TEST_CASE("holds set by hand stand in a report of their days, with who let them go") {
  TwoBlocks two;
  Book& book = two.farm.book();
  const auto report = [&](Date from, Date to) { return got(report_data(book, two.farm.farm, from, to)).holds; };
  const Id hold = add(
      book, "hold",
      {reference_value("bed", two.north_beds[0]), quantity_value("stretch.from", "0 ft"),
       quantity_value("stretch.to", "40 ft"), word_value("what", "entry"), text_field_value("why", "broken glass")});
  CHECK(report(kDay14, kDay14).size() == 1);
  CHECK(report(kDay14 + 30, kDay14 + 30).size() == 1);
  CHECK(report(Date{2026, 5, 13}, Date{2026, 5, 13}).empty());
  const std::string open = page_of(book, two.farm.farm, kDay14, kDay14);
  CHECK(says(open, "<td>North side B1, 0 to 40 ft</td>"));
  CHECK(says(open, "<td>no entry</td>"));
  CHECK(says(open, "<td>until released</td>"));
  const Stamp at = *parse_stamp("2026-05-16T09:00:00-04:00");
  add(book, "release", {reference_value("hold", hold), text_field_value("why", "raked"), instant_value("at", at)});
  CHECK(says(page_of(book, two.farm.farm, kDay14, kDay14), "16 May 2026, 9:00 am"));
  CHECK(says(page_of(book, two.farm.farm, kDay14, kDay14), ", raked</td>"));
  CHECK(report(kDay14 + 2, kDay14 + 2).size() == 1);
  CHECK(report(kDay14 + 3, kDay14 + 3).empty());
  edit(book, hold, {text_field_value("struck", "another bed was meant")});
  CHECK(report(kDay14, kDay14).empty());
}

TEST_CASE("a report tells each bed in one row, and what all beds of a pass say alike once") {
  TwoBlocks two;
  two.spray(two.farm.beds[0]);
  two.spray(two.north_beds[1], "10 ft", "40 ft");
  const auto page = [&] { return page_of(two.farm.book(), two.farm.farm, kDay14, kDay14); };
  CHECK(says(page(), ">10 to 40 ft<"));
  CHECK(says(page(), "Spray, not known</th>"));
  CHECK_FALSE(says(page(), "How the volume was got"));
  CHECK_FALSE(says(page(), "Compost in water"));  // A column without any text is left out.
  edit(two.farm.book(), two.load,
       {quantity_value("mix.water", "1 gal"), quantity_value("left", "0 gal"),
        instant_value("closed", TwoBlocks::start())});
  add(two.farm.book(), "dose",
      {reference_value("what.load", two.load), reference_value("what.bed", two.north_beds[2]),
       quantity_value("what.from", "0 ft"), quantity_value("what.to", "100 ft"), quantity_value("what.width", "30 in"),
       quantity_value("what.volume", "0.3 gal"), word_value("what.how", "done"),
       instant_value("when.finish", TwoBlocks::start())});
  CHECK(says(page(), "How the volume was got</th>"));
  CHECK(says(page(), ">measured<"));
  CHECK(says(page(), ">share of load<"));
}

TEST_CASE("kinds and what tanks held, as people are told them") {
  const Words en(Language::English), es(Language::Spanish);
  CHECK(kind_and_name("dose", "N1", en) == "Spray on N1");
  CHECK(kind_and_name("dose", "N1", es) == "Aplicación en N1");
  CHECK(kind_and_name("dose", "", en) == "Spray on a bed");
  CHECK(kind_and_name("lot", "K-19", es) == "Lote K-19");
  CHECK(held_text("brew 13, Wettable sulfur", es) == "Té 13, Wettable sulfur");
  CHECK(held_text("", es).empty());
}

TEST_CASE("a history is told on the farm's clock, whichever the writing copy was set to") {
  TwoBlocks two;  // Its copy stands four hours before UTC.
  Book& book = two.farm.book();
  edit(book, two.farm.farm,
       {text_field_value("zone.name", "America/Los_Angeles"), text_field_value("zone.rule", "PST8PDT,M3.2.0,M11.1.0")});
  const Id dose = two.spray(two.north_beds[0]);
  const Table table = got(audit_table(book, {.record = dose}));
  REQUIRE_FALSE(table.rows.empty());
  const std::string written = table.rows.front().cells.front().text;
  CHECK(written.substr(0, 16) == "2026-05-14T15:00");
  CHECK(written.substr(19) == "-07:00");
  CHECK(std::any_of(table.rows.begin(), table.rows.end(),
                    [](const TableRow& row) { return row.cells[7].text == "2026-05-14T04:10:00-07:00"; }));
  // So are its days: 2 in the morning of the 15th by the copy's clock is still the 14th.
  two.farm.pass_time(8 * kHour);
  const Id late = two.spray(two.north_beds[1]);
  CHECK_FALSE(got(audit_table(book, {.record = late, .to = kDay14})).rows.empty());
  CHECK(got(audit_table(book, {.record = late, .from = kDay14 + 1})).rows.empty());
}

TEST_CASE("texts and words of fields in the reader's language") {
  const Words es(Language::Spanish);
  CHECK(text_told("struck", "logged twice", es) == "anotado dos veces");
  CHECK(text_told("note", "covered", es) == "cubierta");
  CHECK(text_told("note", "in my words", es) == "in my words");
  CHECK(text_told("weather_start.direction", "SW", es) == "SO");
  CHECK(text_told("before.held", "brew 13", es) == "Té 13");
  CHECK(stored_word("value.value", "over", es) == "rebosa");
  CHECK(stored_word("verdict.word", "do-not-use", es) == "no usar");
  CHECK(field_name("bed", "size.length", es) == "largo");
  // The same last word says something else in another kind.
  CHECK(field_name("load", "before.held", es) == "lo que llevaba antes el tanque");
  CHECK(field_name("sale", "to", es) == "a quién");
  CHECK(field_name("dose", "what.to", es) == "hasta");
  for (const KindDef& kind : kinds())
    for (const FieldDef& field : kind.fields) {
      const std::string last(field.key.substr(field.key.find('.') + 1));
      CAPTURE(std::string(kind.name));
      CAPTURE(last);
      CHECK((es.has("field." + std::string(kind.name) + "." + std::string(field.key)) ||
             es.has("field." + std::string(field.key)) || es.has("field." + last)));
    }
}

TEST_CASE("columns of tables: with the group where the last word says nothing, and each amount's SI unit beside it") {
  TwoBlocks two;
  Book& book = two.farm.book();
  const Id lot = two.farm.lot(two.farm.material("Kelp", "microbe-food", false), "K-19", "2 lb");
  two.farm.lot(two.farm.material("Tabs", "microbe-food", false), "T-1", "12 each");
  const auto head = [&](std::string_view kind) {
    const std::string text = csv_text(got(table_of(book, kind)));
    return text.substr(0, text.find("\r\n"));
  };
  for (const std::string_view kind : {"dose", "load", "lot", "brew", "pass"}) {
    CAPTURE(std::string(kind));
    CHECK(says(head(kind), ",late.at,late.from,"));
  }
  CHECK(says(head("dose"), ",what.from,what.from_si (m),what.to,"));
  CHECK(says(head("brew"), ",verdict.word,verdict.by,"));
  CHECK(says(head("lot"), ",quantity,quantity_si,quantity_si_unit,"));
  const std::string lots = csv_text(got(table_of(book, "lot")));
  CHECK(says(lots, ",2 lb,0.90718474,kg,"));
  CHECK(says(lots, ",12 each,12,1,"));
  CHECK_FALSE(lot.is_nil());
  // A dose says what the report says: the day of its pass, what grew there, the volume worked out.
  two.farm.plant(two.farm.beds[0], "Lettuce");
  const Id dose = two.spray(two.farm.beds[0]);
  edit(book, two.load,
       {quantity_value("mix.water", "1 gal"), quantity_value("left", "0.25 gal"),
        instant_value("closed", TwoBlocks::start())});
  const std::string doses = csv_text(got(table_of(book, "dose")));
  CHECK(says(head("dose"), ",pass_date,farm,crops,shown_spray_si (m3),shown_tea_si (m3),shown_from"));
  CHECK(says(doses, ",2026-05-14,Alder Reach,Lettuce,0.002839058838,0,share-of-load"));
  edit(book, dose, {text_field_value("struck", "twice")});
  CHECK(says(csv_text(got(table_of(book, "dose"))), ",2026-05-14,Alder Reach,Lettuce,,,\r\n"));
}
