#include "book/kinds.h"

#include "base/text.h"

namespace steep {
namespace {

using D = Dimension;
constexpr std::nullopt_t kAny = std::nullopt;

// ---- Places -------------------------------------------------------------------------------

// Tables are set by hand.
// clang-format off
constexpr FieldDef kBook[] = {
    {"name", "t", kAny, {}, true},
    {"mode", "w", kAny, "real|demo", true},
    {"joined", "l"},  // ids of other starts of the same business
};
constexpr FieldDef kFarm[] = {
    {"name", "t", kAny, {}, true},
    {"client", "t"},
    {"address", "t"},
    {"place.latitude", "n"},
    {"place.longitude", "n"},
    {"place.elevation", "q", D::Length},
    {"zone.name", "t"},
    {"zone.rule", "t"},
    {"counting", "w", kAny, "dates|hours"},
    {"units", "w", kAny, "us|metric"},
    {"certifier", "t"},
    {"plan_number", "t"},
    {"rules", "l"},
    {"tea_wait.days", "n"},  // 'x' = not decided
    {"tea_wait.by", "t"},
    {"harvest_pattern", "t"},  // '{bed}-{day}-{copy}'; always with {copy} in it
};
constexpr FieldDef kLimit[] = {
    {"farm", "r", kAny, "farm", true},
    {"which", "w", kAny,
     "oxygen|brew-age|air-off|extract-minutes|wind-high|wind-low|temperature-high|temperature-low|"
     "sun|hour-from|hour-to|calibration-age|food|"
     "reserve|air-target|load-time|loading-time|water-stand|water-aerate",  // those of planning
     true},
    {"limit.value", "nq"},
    {"limit.by", "t"},
};
constexpr FieldDef kInterval[] = {
    {"on", "r", kAny, "farm|block|planting"},
    {"farm", "r", kAny, "farm", true},
    {"crop", "t"},  // instead of `on`: this crop everywhere on the farm
    {"aim", "w", kAny, "leaf|soil", true},
    {"days", "n", kAny, {}, true},
};
constexpr FieldDef kBlock[] = {
    {"farm", "r", kAny, "farm", true},
    {"name", "t", kAny, {}, true},
    {"kind", "w", kAny, "open|tunnel|greenhouse"},
    {"order", "l"},  // bed ids in walking order
};
constexpr FieldDef kBed[] = {
    {"block", "r", kAny, "block", true},
    {"name", "t", kAny, {}, true},
    {"size.length", "q", D::Length},
    {"size.width", "q", D::Length},
    {"size.polygon", "t"},
    {"zero_end", "t"},
    {"far_end", "t"},
    {"valid.from", "d"},
    {"valid.to", "d"},
    {"origin.beds", "l"},  // 'id from to' a piece: the ground this bed was made of
    {"origin.how", "w", kAny, "split|joined|renamed|moved"},
};
constexpr FieldDef kPlanting[] = {
    {"bed", "r", kAny, "bed", true},
    {"crop", "t", kAny, {}, true},
    {"variety", "t"},
    {"stretch.from", "q", D::Length},
    {"stretch.to", "q", D::Length},
    {"plants", "n"},
    {"sown", "d"},
    {"planted", "d"},
    {"first_harvest", "d"},
    {"ended", "d"},
    {"touches_soil", "b"},
};
constexpr FieldDef kWaterSource[] = {
    {"name", "t", kAny, {}, true},
    {"kind", "w", kAny, "well|rain|mains|surface"},
    {"disinfectant", "w", kAny, "none|chlorine|chloramine|unknown"},
    {"test.date", "d"},
    {"test.e_coli", "c"},  // CFU or MPN per 100 mL, '<1' as written
    {"test.paper", "t"},
};

// ---- People and things ----------------------------------------------------------------------

constexpr FieldDef kPerson[] = {
    {"name", "t", kAny, {}, true},
    {"initials", "t"},
    {"role", "t"},
    {"address", "t"},
    {"licence.number", "t"},
    {"licence.expires", "d"},
    {"language", "w", kAny, "en|es"},
};
constexpr FieldDef kMaterial[] = {
    {"name", "t", kAny, {}, true},
    {"maker", "t"},
    {"kind", "w", kAny,
     "compost|worm-compost|microbe-food|extract-base|water-conditioner|foliar-feed|biological|"
     "pesticide|cleaner|other"},
    {"animal", "b"},
    {"additive", "b"},
    {"registration", "t"},
    {"labelled", "b"},  // its label binds: crops, waits, rates
    {"allowed.state", "w", kAny, "yes|restricted|no|ask"},
    {"allowed.paper", "t"},
    {"density.weight", "q", D::Mass},
    {"density.volume", "q", D::Volume},
};
constexpr FieldDef kLabelLine[] = {
    {"material", "r", kAny, "material", true},
    {"crop", "t"},
    {"wait.harvest", "q", D::Time},
    {"wait.entry", "q", D::Time},
    {"rate.amount", "q", kAny},
    {"rate.basis", "w", kAny, "per-area|per-spray|dilution"},
};
constexpr FieldDef kLot[] = {
    {"material", "r", kAny, "material", true},
    {"code", "t"},
    {"supplier", "t"},
    {"received", "d"},
    {"receipt", "t"},
    {"quantity", "q", kAny},
    {"cost", "n"},
    {"expires", "d"},
    {"heap", "r", kAny, "heap"},
};
constexpr FieldDef kVessel[] = {
    {"name", "t", kAny, {}, true},
    {"volume.nominal", "q", D::Volume},
    {"volume.working", "q", D::Volume},
    {"depth", "q", D::Length},
    {"pump.flow", "q", D::Flow},
    {"pump.pressure", "q", D::Pressure},
    {"outlets", "n"},
    {"diffuser", "t"},
};
constexpr FieldDef kRig[] = {
    {"name", "t", kAny, {}, true},
    {"kind", "w", kAny, "backpack|cart|boom|hose|can|injector"},
    {"tank.volume", "q", D::Volume},
    {"tank.dead", "q", D::Volume},  // what the pump cannot reach
    {"swath", "q", D::Length},
    {"nozzles.size", "t"},
    {"nozzles.count", "n"},
    {"nozzles.spacing", "q", D::Length},
    {"nozzles.pressure", "q", D::Pressure},
    {"strainer", "t"},
};
constexpr FieldDef kCalibration[] = {
    {"rig", "r", kAny, "rig", true},
    {"result.method", "w", kAny, "walk-and-catch|refill|nozzle-catch"},
    {"result.catches", "l"},  // 'volume seconds' a piece, as typed
    {"result.course", "q", D::Length},
    {"result.swath", "q", D::Length},
    {"result.speed", "q", D::Speed},
    {"result.pressure", "q", D::Pressure},
    {"result.rate", "q", D::VolumePerArea},
    {"result.area", "w", kAny, "bed-top|swath"},
    {"date", "d"},
    {"by", "r", kAny, "person"},
};
constexpr FieldDef kRecipe[] = {
    {"name", "t", kAny, {}, true},
    {"word", "w", kAny, "tea|extract"},
    {"reference", "q", D::Volume},
    {"brewing.time", "q", D::Time},
    {"brewing.temperature", "q", D::Temperature},
    {"notes", "t"},
    {"source", "t"},
};
constexpr FieldDef kRecipeLine[] = {
    {"recipe", "r", kAny, "recipe", true},
    {"material", "r", kAny, "material", true},
    {"amount.low", "q", kAny},
    {"amount.high", "q", kAny},
    {"scaling", "w", kAny, "proportion|table"},
    {"table", "l"},  // 'volume amount' or 'volume low high' a piece
};

// ---- The work -------------------------------------------------------------------------------

constexpr FieldDef kBrew[] = {
    {"number", "n"},
    {"recipe", "r", kAny, "recipe"},
    {"vessel", "r", kAny, "vessel"},
    {"fill", "q", D::Volume},
    {"water", "r", kAny, "water-source"},
    {"treatment.how", "w", kAny, "none|stand|aerate|neutralize"},
    {"treatment.from", "i"},
    {"treatment.to", "i"},
    {"target", "r", kAny, "block"},
    {"met_water", "i"},
    {"air_on", "i"},
    {"air_off", "i"},
    {"verdict.word", "w", kAny, "ready|hold|do-not-use"},
    {"verdict.by", "r", kAny, "person"},
    {"verdict.why", "t"},
    {"verdict.at", "i"},
};
constexpr FieldDef kBrewLine[] = {
    {"brew", "r", kAny, "brew", true},
    {"amount.lot", "r", kAny, "lot"},
    {"amount.amount", "q", kAny},
};
constexpr FieldDef kEvent[] = {
    {"brew", "r", kAny, "brew", true},
    {"what", "w", kAny, "fed|topped-up|moved|power-cut", true},
    {"at", "i"},
    {"amount", "q", kAny},
    {"note", "t"},
};
constexpr FieldDef kReading[] = {
    {"of", "r", kAny, "brew|heap|water-source|pass", true},
    {"quantity", "w", kAny,
     "temperature|oxygen|ph|ec|smell|foam|moisture|wind|humidity", true},
    {"value.value", "nqw", kAny, "earthy|sweet|sour|foul|none|low|high|over"},
    {"value.instrument", "t"},
    {"at", "i"},
    {"checked", "d"},  // the instrument's last check
};
constexpr FieldDef kCount[] = {
    {"of", "r", kAny, "brew|lot|heap|water-source", true},
    {"what", "t"},  // bacteria, fungi …
    {"result.value", "c", kAny, {}, true},
    {"result.per", "w", kAny, "ml|g|100ml", true},
    {"result.low", "n"},
    {"result.high", "n"},
    {"result.confidence", "n"},  // per cent, of the interval
    {"result.estimated", "b"},
    {"behind.method", "w", kAny, "microscope|chamber|plates|mpn|geometric-mean", true},
    {"behind.counted", "n"},    // cells, colonies, tubes that grew
    {"behind.looked_at", "n"},  // fields, plates, tubes, samples
    {"behind.objective", "n"},
    {"behind.drop", "q", D::Volume},
    {"behind.dilution", "n"},
    {"behind.inputs", "t"},  // as behind `work NAME`
    {"at", "i"},
};
constexpr FieldDef kPass[] = {
    {"farm", "r", kAny, "farm", true},
    {"number", "n"},
    {"rig", "r", kAny, "rig"},
    {"calibration", "r", kAny, "calibration"},
    {"aim", "w", kAny, "leaf|soil|drench", true},
    {"people", "l"},  // person ids
    {"start", "i", kAny, {}, true},
    {"finish", "i"},
    {"weather_start.wind", "q", D::Speed},
    {"weather_start.direction", "t"},
    {"weather_start.temperature", "q", D::Temperature},
    {"weather_start.sky", "t"},
    {"weather_start.where", "t"},
    {"weather_finish.wind", "q", D::Speed},
    {"weather_finish.direction", "t"},
    {"weather_finish.temperature", "q", D::Temperature},
    {"weather_finish.sky", "t"},
    {"weather_finish.where", "t"},
    {"rates.tea", "q", D::VolumePerArea},
    {"rates.spray", "q", D::VolumePerArea},
    {"rates.area", "w", kAny, "bed-top|swath"},
    {"walk.way", "w", kAny, "turn|same"},
    {"walk.from", "w", kAny, "zero|far"},
    {"beds", "l"},    // bed ids in walking order, as planned
    {"undone", "n"},  // presses taken back within the pass
};
constexpr FieldDef kLoad[] = {
    {"pass", "r", kAny, "pass", true},
    {"number", "n"},
    {"mix.brew", "r", kAny, "brew"},
    {"mix.tea", "q", D::Volume},
    {"mix.source", "r", kAny, "water-source"},
    {"mix.water", "q", D::Volume},
    {"filled", "i"},
    {"before.held", "t"},  // what the tank last held, 'x' = not known
    {"before.cleaned", "b"},
    {"left", "q", D::Volume},  // left in the tank at the load's end
    {"closed", "i"},
};
constexpr FieldDef kLoadLine[] = {
    {"load", "r", kAny, "load", true},
    {"amount.lot", "r", kAny, "lot"},
    {"amount.amount", "q", kAny},
};
constexpr FieldDef kDose[] = {
    {"what.load", "r", kAny, "load", true},
    {"what.bed", "r", kAny, "bed", true},
    {"what.from", "q", D::Length},
    {"what.to", "q", D::Length},
    {"what.width", "q", D::Length},
    {"what.volume", "q", D::Volume},  // only if measured
    {"what.how", "w", kAny, "done|part|skipped", true},
    {"when.start", "i"},
    {"when.finish", "i"},
    {"note", "t"},
};
constexpr FieldDef kDiscard[] = {
    {"of", "r", kAny, "brew|load", true},
    {"volume", "q", D::Volume},
    {"where.place", "r", kAny, "heap|bed|block"},
    {"where.words", "t"},
    {"at", "i"},
};
constexpr FieldDef kWash[] = {
    {"of", "r", kAny, "vessel|rig", true},
    {"held", "t"},
    {"how.method", "t"},
    {"how.lot", "r", kAny, "lot"},
    {"how.strength", "t"},
    {"rinsed", "b"},
    {"by", "r", kAny, "person"},
    {"at", "i"},
};
constexpr FieldDef kHarvest[] = {
    {"bed", "r", kAny, "bed", true},
    {"stretch.from", "q", D::Length},
    {"stretch.to", "q", D::Length},
    {"planting", "r", kAny, "planting"},
    {"at", "i", kAny, {}, true},
    {"amount", "q", kAny},
    {"code", "t"},
    {"by", "r", kAny, "person"},
};
constexpr FieldDef kSale[] = {
    {"harvest", "r", kAny, "harvest", true},
    {"amount", "q", kAny},
    {"to", "t"},
    {"at", "i"},
};
constexpr FieldDef kHold[] = {
    {"bed", "r", kAny, "bed", true},
    {"stretch.from", "q", D::Length},
    {"stretch.to", "q", D::Length},
    {"what", "w", kAny, "harvest|entry|both", true},
    {"until", "i"},  // none = until released
    {"why", "t", kAny, {}, true},
};
constexpr FieldDef kRelease[] = {
    {"hold", "r", kAny, "hold", true},
    {"why", "t", kAny, {}, true},
    {"at", "i"},
};
constexpr FieldDef kPlan[] = {
    {"what", "w", kAny, "brew|pass|pick", true},
    {"farm", "r", kAny, "farm"},  // a pass or a picking; a brew's plan lies in the house
    {"at", "i"},
    {"beds", "l"},
    {"recipe", "r", kAny, "recipe"},
    {"vessel", "r", kAny, "vessel"},
    {"volume", "q", D::Volume},
    {"rates.tea", "q", D::VolumePerArea},
    {"rates.spray", "q", D::VolumePerArea},
    {"rates.area", "w", kAny, "bed-top|swath"},
    {"became", "r", kAny, "brew|pass|harvest"},
    {"not_done", "t"},
    {"rig", "r", kAny, "rig"},
    {"aim", "w", kAny, "leaf|soil|drench"},
    {"water", "r", kAny, "water-source"},
    {"lines", "l"},       // of a brew: 'lot-or-material amount' a piece, where one was chosen
    {"brews", "l"},       // of a pass: ids of the plans whose tea it takes
    {"water_from", "i"},  // of a brew: chlorinated water has to stand from then
};
constexpr FieldDef kNote[] = {
    {"of", "r", kAny, {}, true},
    {"text", "t", kAny, {}, true},
    {"at", "i"},
    {"ask.person", "r", kAny, "person"},  // who may know which version is right
    {"ask.versions", "l"},                // the changes that it is about
};

constexpr FieldDef kPhoto[] = {
    {"of", "r", kAny, {}, true},
    {"file.sha256", "h", kAny, {}, true},  // of its bytes, which lie beside the book
    {"file.size", "n"},                    // bytes
    {"file.type", "w", kAny, "jpeg|png|webp"},
    {"file.name", "t"},                    // a label
    {"caption", "t"},
    {"at", "i"},                           // when it was taken
};

constexpr FieldDef kCommon[] = {
    {"struck", "t"},       // reason, never blank; 'x' restores
    {"late.at", "i"},      // when it happened, if written later
    {"late.from", "w", kAny, "paper|memory"},
    {"same_as", "r"},      // this record and that one are one thing
    {"not_same", "l"},     // ids that somebody said are not the same thing
    {"settled", "l"},      // ids of other entries about which 'Same bed, twice?' was answered
};

constexpr KindDef kKinds[] = {
    {"book", PartRule::HouseBase, {}, kBook},
    {"farm", PartRule::FarmBase, {}, kFarm},
    {"limit", PartRule::FarmBase, {}, kLimit},
    {"interval", PartRule::FarmBase, {}, kInterval},
    {"block", PartRule::FarmBase, {}, kBlock},
    {"bed", PartRule::FarmBase, {}, kBed},
    {"planting", PartRule::FarmBase, {}, kPlanting},
    {"water-source", PartRule::HouseBase, {}, kWaterSource},
    {"person", PartRule::HouseBase, {}, kPerson},
    {"material", PartRule::HouseBase, {}, kMaterial},
    {"label-line", PartRule::OfParent, "material", kLabelLine},
    {"lot", PartRule::HouseBase, {}, kLot},
    {"vessel", PartRule::HouseBase, {}, kVessel},
    {"rig", PartRule::HouseBase, {}, kRig},
    {"calibration", PartRule::OfParent, "rig", kCalibration},
    {"recipe", PartRule::HouseBase, {}, kRecipe},
    {"recipe-line", PartRule::OfParent, "recipe", kRecipeLine},
    {"brew", PartRule::HouseYear, {}, kBrew},
    {"brew-line", PartRule::OfParent, "brew", kBrewLine},
    {"event", PartRule::OfParent, "brew", kEvent},
    {"reading", PartRule::OfParent, "of", kReading},
    {"count", PartRule::OfParent, "of", kCount},
    {"pass", PartRule::FarmYear, {}, kPass},
    {"load", PartRule::OfParent, "pass", kLoad},
    {"load-line", PartRule::OfParent, "load", kLoadLine},
    {"dose", PartRule::OfParent, "what.load", kDose},
    {"discard", PartRule::OfParent, "of", kDiscard},
    {"wash", PartRule::HouseYear, {}, kWash},
    {"harvest", PartRule::FarmYear, {}, kHarvest},
    {"sale", PartRule::OfParent, "harvest", kSale},
    {"hold", PartRule::FarmYear, {}, kHold},
    {"release", PartRule::OfParent, "hold", kRelease},
    {"plan", PartRule::FarmYear, {}, kPlan},
    {"note", PartRule::OfParent, "of", kNote},
    {"photo", PartRule::OfParent, "of", kPhoto},
};
// clang-format on

}  // namespace

std::span<const KindDef> kinds() { return kKinds; }
std::span<const FieldDef> common_fields() { return kCommon; }

const KindDef* find_kind(std::string_view name) {
  for (const KindDef& kind : kKinds)
    if (kind.name == name) return &kind;
  return nullptr;
}

const FieldDef* find_field(const KindDef& kind, std::string_view key) {
  for (const FieldDef& field : kind.fields)
    if (field.key == key) return &field;
  for (const FieldDef& field : kCommon)
    if (field.key == key) return &field;
  return nullptr;
}

std::string_view group_of(std::string_view key) { return key.substr(0, key.find('.')); }

std::string Part::text() const {
  return (farm.is_nil() ? "house" : farm.text()) + "/" + (year == 0 ? "base" : std::to_string(year));
}

std::optional<Part> Part::parse(std::string_view text) {
  const auto slash = text.find('/');
  if (slash == std::string_view::npos) return std::nullopt;
  Part part;
  if (const auto owner = text.substr(0, slash); owner != "house") {
    const auto id = Id::parse(owner);
    if (!id || id->is_nil()) return std::nullopt;
    part.farm = *id;
  }
  if (const auto time = text.substr(slash + 1); time != "base") {
    const auto year = parse_int(time);
    if (time.size() != 4 || !year || *year < 1000) return std::nullopt;
    part.year = static_cast<int>(*year);
  }
  return part;
}

}  // namespace steep
