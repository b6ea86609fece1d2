#include "book/report_data.h"
#include "book/trace.h"
#include "paper/csv.h"
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
