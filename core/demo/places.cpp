/// The ground of Alder Reach: three blocks between the lane and the creek, and what grows there.

#include "book/farm_commands.h"
#include "demo/story.h"

namespace steep {
namespace {

struct BlockTold {
  std::string_view name, prefix, kind, zero_end, far_end, length;
  int beds;
};
constexpr BlockTold kBlocks[] = {
    {"North", "N", "open", "lane", "hedge", "100 ft", 24},
    {"Creek", "C", "open", "lane", "creek", "100 ft", 12},
    {"Tunnel", "T", "tunnel", "door", "far door", "78 ft", 8},
};
constexpr int kShortBeds[] = {9, 10, 17, 18};  // The rock under the hedge: 70 ft.

/// Who grows where: beds from–to of a block, days since it was set out or sown.
struct CropTold {
  std::string_view prefix;
  int from, to;
  std::string_view crop, variety;
  int days_ago;
  bool sown, touches_soil;
  int plants;
};
constexpr CropTold kCrops[] = {
    {"N", 1, 6, "Lettuce", "Cresthaven", 35, false, false, 480},
    {"N", 7, 10, "Spinach", "Fernside", 47, true, false, 0},
    {"N", 11, 12, "Chard", "Longstem", 51, false, false, 200},
    {"N", 13, 13, "Radish", "Quickred", 24, true, true, 0},
    {"N", 14, 16, "Beet", "Roundtop", 48, true, true, 0},
    {"N", 17, 18, "Spinach", "Fernside", 40, true, false, 0},
    {"N", 19, 21, "Carrot", "Slimdown", 62, true, true, 0},
    {"N", 22, 24, "Kale", "Blueleaf", 55, false, false, 130},
    {"C", 1, 1, "Collard", "Broadhand", 57, false, false, 120},
    {"C", 2, 3, "Kale", "Blueleaf", 57, false, false, 130},
    {"C", 4, 6, "Broccoli", "Greenknot", 52, false, false, 110},
    {"C", 7, 8, "Collard", "Broadhand", 50, false, false, 120},
    {"C", 9, 10, "Chard", "Longstem", 49, false, false, 200},
    {"C", 11, 11, "Fennel", "Whitebulb", 45, false, false, 160},
    {"C", 12, 12, "Parsley", "Flatfield", 60, false, false, 240},
    {"T", 1, 5, "Tomato", "Redwall", 44, false, false, 52},
    {"T", 6, 7, "Pepper", "Longhorn", 40, false, false, 78},
    {"T", 8, 8, "Cucumber", "Greenline", 33, false, false, 52},
};

Result<void> resize(Story& story, const Id& bed, std::string_view length) {
  TRY_ASSIGN(const auto& record, story.book->record(bed));
  Save save;
  save.record = bed;
  save.kind = "bed";
  save.seen = record->heads();
  save.why = "measured";
  for (const Group& group : record->groups)
    if (group.key == "size")
      for (FieldValue field : group.heads.front().fields) {
        if (field.key == "size.length") field.text = length;
        save.fields.push_back(std::move(field));
      }
  return story.book->write(save, story.ana);
}

Result<void> set_out(Story& story) {
  for (const CropTold& told : kCrops) {
    for (int i = told.from; i <= told.to; ++i) {
      const Date day = story.today + -told.days_ago;
      std::vector<FieldValue> fields = {
          reference_value("bed", story[std::string(told.prefix) + std::to_string(i)]),
          text_field_value("crop", std::string(told.crop)), text_field_value("variety", std::string(told.variety)),
          date_value(told.sown ? "sown" : "planted", day), yes_no_value("touches_soil", told.touches_soil)};
      if (told.plants > 0) fields.push_back(number_value("plants", std::to_string(told.plants)));
      TRY(story.add("planting", "", std::move(fields)));
    }
  }
  // Radishes between the lettuces of one bed: two crops, one bed.
  return story
      .add("planting", "",
           {reference_value("bed", story["N6"]), text_field_value("crop", "Radish"),
            text_field_value("variety", "Quickred"), quantity_value("stretch.from", "0 ft"),
            quantity_value("stretch.to", "40 ft"), date_value("sown", story.today + -20),
            yes_no_value("touches_soil", true)})
      .and_then([](const Id&) -> tl::expected<void, Problem> { return {}; });
}

/// Where the farm lies, when it lies where it was told; elsewhere the sun would rise at a wrong hour.
Result<void> locate(Story& story) {
  if (story.zone.name() != "America/Los_Angeles") return {};
  TRY_ASSIGN(const auto& record, story.book->record(story.farm));
  Save save;
  save.record = story.farm;
  save.kind = "farm";
  save.fields = {number_value("place.latitude", "44.1"), number_value("place.longitude", "-123.1"),
                 quantity_value("place.elevation", "430 ft")};
  save.seen = record->heads();
  return story.book->write(save, story.ana);
}

Result<void> limits(Story& story, const Going& ana) {
  struct LimitTold {
    std::string_view which, value;
  };
  constexpr LimitTold kLimits[] = {
      {"oxygen", "6 mg/L"},   {"brew-age", "36 h"},          {"air-off", "4 h"},
      {"wind-high", "8 mph"}, {"calibration-age", "90 day"}, {"temperature-high", "85 degF"}};
  for (const LimitTold& told : kLimits)
    TRY(expect(set_limit(*story.book, story.farm, told.which, written(told.value), "Ana Leland", ana)));
  TRY(expect(set_interval(*story.book, story.farm, story.farm, "", false, 14, ana)));
  return {};
}

}  // namespace

Result<void> tell_places(Story& story) {
  FarmGiven given;
  given.name = "Alder Reach";
  given.address = "14 Mill Lane";
  given.zone_name = story.zone.name();
  given.units = System::Us;
  given.counting = DayCounting::Hours;
  given.tea_wait_days = 1;
  given.person_name = "Ana Leland";
  given.person_address = "14 Mill Lane";
  for (const BlockTold& told : kBlocks) {
    BlockGiven block;
    block.name = told.name;
    block.prefix = told.prefix;
    block.beds = told.beds;
    block.length = written(told.length);
    block.width = written("30 in");
    block.kind = told.kind;
    block.zero_end = told.zero_end;
    block.far_end = told.far_end;
    given.blocks.push_back(std::move(block));
  }
  TRY(story.book->start("Alder Reach", true));
  TRY_ASSIGN(const StartedFarm& started, start_farm(*story.book, given, {}));
  story.farm = started.farm;
  story.ana = started.person;
  std::size_t next = 0;
  for (const BlockTold& told : kBlocks)
    for (int i = 1; i <= told.beds; ++i) story.ids[std::string(told.prefix) + std::to_string(i)] = started.beds[next++];
  for (std::size_t i = 0; i < started.blocks.size(); ++i) story.ids[std::string(kBlocks[i].name)] = started.blocks[i];
  for (const int i : kShortBeds) TRY(resize(story, story["N" + std::to_string(i)], "70 ft"));

  TRY_ASSIGN(story.marek, story.add("person", "Marek",
                                    {text_field_value("name", "Marek Dolan"), text_field_value("initials", "MD"),
                                     text_field_value("role", "field crew"), text_field_value("address", "3 Weir Road"),
                                     word_value("language", "en")}));
  TRY(locate(story));
  TRY(limits(story, {story.ana, {}, false}));
  return set_out(story);
}

}  // namespace steep
