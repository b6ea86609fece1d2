/// What Alder Reach brews and sprays with. Makers and products are invented.

#include "demo/story.h"

namespace steep {
namespace {

Result<void> materials(Story& story) {
  TRY(story.add("material", "leaf compost",
                {text_field_value("name", "Leaf compost"), text_field_value("maker", "Alder Reach"),
                 word_value("kind", "compost"), yes_no_value("animal", false), yes_no_value("additive", false),
                 word_value("allowed.state", "yes"), text_field_value("allowed.paper", "heap record H7")}));
  TRY(story.add("material", "worm compost",
                {text_field_value("name", "Worm compost"), text_field_value("maker", "Weir Worms"),
                 word_value("kind", "worm-compost"), yes_no_value("animal", false), yes_no_value("additive", false),
                 word_value("allowed.state", "yes"), text_field_value("allowed.paper", "supplier letter, 12 Jan")}));
  TRY(story.add(
      "material", "kelp",
      {text_field_value("name", "Liquid kelp"), text_field_value("maker", "Tideline"),
       word_value("kind", "microbe-food"), yes_no_value("animal", false), yes_no_value("additive", true),
       word_value("allowed.state", "yes"), text_field_value("allowed.paper", "certifier's input list, 3 Feb")}));
  TRY(story.add(
      "material", "humic",
      {text_field_value("name", "Humic concentrate"), text_field_value("maker", "Blackbed"),
       word_value("kind", "microbe-food"), yes_no_value("animal", false), yes_no_value("additive", true),
       word_value("allowed.state", "restricted"), text_field_value("allowed.paper", "certifier's input list, 3 Feb")}));
  TRY(story.add("material", "sulfur",
                {text_field_value("name", "Wettable sulfur"), text_field_value("maker", "Ochre Works"),
                 word_value("kind", "pesticide"), yes_no_value("animal", false), yes_no_value("labelled", true),
                 text_field_value("registration", "0000-000"), word_value("allowed.state", "restricted")}));
  TRY(story.add("label-line", "",
                {reference_value("material", story["sulfur"]), text_field_value("crop", "Tomato"),
                 quantity_value("wait.harvest", "0 day"), quantity_value("wait.entry", "24 h"),
                 quantity_value("rate.amount", "5 lb/acre"), word_value("rate.basis", "per-area")}));
  return {};
}

struct LotTold {
  std::string_view name, material, code, supplier, quantity, receipt;
  int days_ago;
};
constexpr LotTold kLots[] = {
    {"lot leaf", "leaf compost", "H7-2", "own heap H7", "120 lb", "", 72},
    {"lot worm", "worm compost", "W-14", "Weir Worms", "60 lb", "1172", 71},
    {"lot kelp", "kelp", "K-19", "Mill Lane Supply", "64 fl oz", "1187", 70},
    {"lot humic", "humic", "B-3", "Mill Lane Supply", "32 fl oz", "1187", 70},
    {"lot sulfur", "sulfur", "S-31", "Mill Lane Supply", "5 lb", "1187", 70},
};

Result<void> lots(Story& story) {
  for (const LotTold& told : kLots) {
    std::vector<FieldValue> fields = {
        reference_value("material", story[told.material]), text_field_value("code", std::string(told.code)),
        text_field_value("supplier", std::string(told.supplier)), date_value("received", story.today + -told.days_ago),
        quantity_value("quantity", std::string(told.quantity))};
    if (!told.receipt.empty()) fields.push_back(text_field_value("receipt", std::string(told.receipt)));
    TRY(story.add("lot", told.name, std::move(fields)));
  }
  return {};
}

Result<void> rig(Story& story, std::string_view name, std::string_view shown, std::string_view tank,
                 std::string_view dead) {
  TRY_ASSIGN(const Id id, story.add("rig", name,
                                    {text_field_value("name", std::string(shown)), word_value("kind", "backpack"),
                                     quantity_value("tank.volume", std::string(tank)),
                                     quantity_value("tank.dead", std::string(dead)), quantity_value("swath", "30 in"),
                                     text_field_value("nozzles.size", "flat fan, 400 micron strainer out"),
                                     number_value("nozzles.count", "1"), text_field_value("strainer", "none")}));
  TRY(story.add(
      "calibration", "",
      {reference_value("rig", id), word_value("result.method", "walk-and-catch"),
       list_value("result.catches", {"45 fl oz 53 s", "45 fl oz 53 s"}), quantity_value("result.course", "136 ft"),
       quantity_value("result.swath", "30 in"), quantity_value("result.speed", "1.75 mph"),
       quantity_value("result.rate", "45 gal/acre"), word_value("result.area", "bed-top"),
       date_value("date", story.today + -66), reference_value("by", story.ana)}));
  return {};
}

Result<void> recipe(Story& story, std::string_view name, std::string_view shown, std::string_view hours) {
  TRY_ASSIGN(const Id id,
             story.add("recipe", name,
                       {text_field_value("name", std::string(shown)), word_value("word", "tea"),
                        quantity_value("reference", "5 gal"), quantity_value("brewing.time", std::string(hours)),
                        quantity_value("brewing.temperature", "68 degF"),
                        text_field_value("source", "the farm's own, third season")}));
  struct LineTold {
    std::string_view material, low, high;
  };
  constexpr LineTold kLines[] = {{"worm compost", "1 lb", "1 lb"},
                                 {"leaf compost", "1/2 lb", "1/2 lb"},
                                 {"kelp", "1 fl oz", "2 fl oz"},
                                 {"humic", "1/2 fl oz", "1 fl oz"}};
  for (const LineTold& told : kLines)
    TRY(story.add("recipe-line", "",
                  {reference_value("recipe", id), reference_value("material", story[told.material]),
                   quantity_value("amount.low", std::string(told.low)),
                   quantity_value("amount.high", std::string(told.high)), word_value("scaling", "proportion")}));
  return {};
}

}  // namespace

Result<void> tell_things(Story& story) {
  TRY(story.add("water-source", "well",
                {text_field_value("name", "Well"), word_value("kind", "well"), word_value("disinfectant", "none"),
                 date_value("test.date", story.today + -68), FieldValue{"test.e_coli", FieldType::Censored, "<1", {}},
                 text_field_value("test.paper", "laboratory sheet 4410")}));
  TRY(story.add("vessel", "blue bucket",
                {text_field_value("name", "Blue bucket"), quantity_value("volume.nominal", "6 gal"),
                 quantity_value("volume.working", "5 gal"), quantity_value("depth", "12 in"),
                 quantity_value("pump.flow", "20 L/min"), quantity_value("pump.pressure", "3 psi"),
                 number_value("outlets", "2"), text_field_value("diffuser", "ring of pipe, 1/8 in holes")}));
  TRY(rig(story, "backpack 1", "Backpack 1", "4 gal", "0.15 gal"));
  TRY(rig(story, "backpack 2", "Backpack 2", "4 gal", "0.15 gal"));
  TRY(materials(story));
  TRY(lots(story));
  return recipe(story, "leaf 3", "Leaf 3", "24 h");
}

}  // namespace steep
