#include "book/kinds.h"

#include "base/text.h"

namespace steep {
namespace {

using D = Dimension;

// ---- Places -------------------------------------------------------------------------------

constexpr FieldDef kBook[] = {
    {"name", "t", D::Any, {}, true},
    {"mode", "w", D::Any, "real|demo", true},
    {"joined", "l"},  // ids of other starts of the same business
};
constexpr FieldDef kFarm[] = {
    {"name", "t", D::Any, {}, true},
    {"client", "t"},
    {"address", "t"},
    {"place.latitude", "n"},
    {"place.longitude", "n"},
    {"place.elevation", "q", D::Length},
    {"zone.name", "t"},
    {"zone.rule", "t"},
    {"counting", "w", D::Any, "dates|hours"},
    {"units", "w", D::Any, "us|metric"},
    {"certifier", "t"},
    {"plan_number", "t"},
    {"rules", "l"},
    {"tea_wait.days", "n"},  // 'x' = not decided
    {"tea_wait.by", "t"},
};
constexpr FieldDef kLimit[] = {
    {"farm", "r", D::Any, "farm", true},
    {"which", "w", D::Any,
     "oxygen|brew-age|air-off|extract-minutes|wind-high|wind-low|temperature-high|temperature-low|"
     "sun|hour-from|hour-to|calibration-age|food",
     true},
    {"limit.value", "nq"},
    {"limit.by", "t"},
};
constexpr FieldDef kInterval[] = {
    {"on", "r", D::Any, "farm|block|planting"},
    {"farm", "r", D::Any, "farm", true},
    {"crop", "t"},  // instead of `on`: this crop everywhere on the farm
    {"aim", "w", D::Any, "leaf|soil", true},
    {"days", "n", D::Any, {}, true},
};
constexpr FieldDef kBlock[] = {
    {"farm", "r", D::Any, "farm", true},
    {"name", "t", D::Any, {}, true},
    {"kind", "w", D::Any, "open|tunnel|greenhouse"},
    {"order", "l"},  // bed ids in walking order
};
constexpr FieldDef kBed[] = {
    {"block", "r", D::Any, "block", true},
    {"name", "t", D::Any, {}, true},
    {"size.length", "q", D::Length},
    {"size.width", "q", D::Length},
    {"size.polygon", "t"},
    {"zero_end", "t"},
    {"far_end", "t"},
    {"valid.from", "d"},
    {"valid.to", "d"},
    {"origin.beds", "l"},  // 'id from to' a piece: the ground this bed was made of
    {"origin.how", "w", D::Any, "split|joined|renamed|moved"},
};
constexpr FieldDef kPlanting[] = {
    {"bed", "r", D::Any, "bed", true},
    {"crop", "t", D::Any, {}, true},
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
    {"name", "t", D::Any, {}, true},
    {"kind", "w", D::Any, "well|rain|mains|surface"},
    {"disinfectant", "w", D::Any, "none|chlorine|chloramine|unknown"},
    {"test.date", "d"},
    {"test.e_coli", "c"},  // CFU or MPN per 100 mL, '<1' as written
    {"test.paper", "t"},
};

// ---- People and things ----------------------------------------------------------------------

constexpr FieldDef kPerson[] = {
    {"name", "t", D::Any, {}, true},
    {"initials", "t"},
    {"role", "t"},
    {"address", "t"},
    {"licence.number", "t"},
    {"licence.expires", "d"},
    {"language", "w", D::Any, "en|es"},
};
constexpr FieldDef kMaterial[] = {
    {"name", "t", D::Any, {}, true},
    {"maker", "t"},
    {"kind", "w", D::Any,
     "compost|worm-compost|microbe-food|extract-base|water-conditioner|foliar-feed|biological|"
     "pesticide|cleaner|other"},
    {"animal", "b"},
    {"additive", "b"},
    {"registration", "t"},
    {"labelled", "b"},  // its label binds: crops, waits, rates
    {"allowed.state", "w", D::Any, "yes|restricted|no|ask"},
    {"allowed.paper", "t"},
    {"density.weight", "q", D::Mass},
    {"density.volume", "q", D::Volume},
};
constexpr FieldDef kLabelLine[] = {
    {"material", "r", D::Any, "material", true},
    {"crop", "t"},
    {"wait.harvest", "q", D::Time},
    {"wait.entry", "q", D::Time},
    {"rate.amount", "q", D::Any},
    {"rate.basis", "w", D::Any, "per-area|per-spray|dilution"},
};
constexpr FieldDef kLot[] = {
    {"material", "r", D::Any, "material", true},
    {"code", "t"},
    {"supplier", "t"},
    {"received", "d"},
    {"receipt", "t"},
    {"quantity", "q", D::Any},
    {"cost", "n"},
    {"expires", "d"},
    {"heap", "r", D::Any, "heap"},
};
constexpr FieldDef kVessel[] = {
    {"name", "t", D::Any, {}, true},
    {"volume.nominal", "q", D::Volume},
    {"volume.working", "q", D::Volume},
    {"depth", "q", D::Length},
    {"pump.flow", "q", D::Flow},
    {"pump.pressure", "q", D::Pressure},
    {"outlets", "n"},
    {"diffuser", "t"},
};
constexpr FieldDef kRig[] = {
    {"name", "t", D::Any, {}, true},
    {"kind", "w", D::Any, "backpack|cart|boom|hose|can|injector"},
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
    {"rig", "r", D::Any, "rig", true},
    {"result.method", "w", D::Any, "walk-and-catch|refill|nozzle-catch"},
    {"result.catches", "l"},  // 'volume seconds' a piece, as typed
    {"result.course", "q", D::Length},
    {"result.swath", "q", D::Length},
    {"result.speed", "q", D::Speed},
    {"result.pressure", "q", D::Pressure},
    {"result.rate", "q", D::VolumePerArea},
    {"result.area", "w", D::Any, "bed-top|swath"},
    {"date", "d"},
    {"by", "r", D::Any, "person"},
};
constexpr FieldDef kRecipe[] = {
    {"name", "t", D::Any, {}, true},
    {"word", "w", D::Any, "tea|extract"},
    {"reference", "q", D::Volume},
    {"brewing.time", "q", D::Time},
    {"brewing.temperature", "q", D::Temperature},
    {"notes", "t"},
    {"source", "t"},
};
constexpr FieldDef kRecipeLine[] = {
    {"recipe", "r", D::Any, "recipe", true},
    {"material", "r", D::Any, "material", true},
    {"amount.low", "q", D::Any},
    {"amount.high", "q", D::Any},
    {"scaling", "w", D::Any, "proportion|table"},
    {"table", "l"},  // 'volume amount' a piece
};

// ---- The work -------------------------------------------------------------------------------

constexpr FieldDef kBrew[] = {
    {"number", "n"},
    {"recipe", "r", D::Any, "recipe"},
    {"vessel", "r", D::Any, "vessel"},
    {"fill", "q", D::Volume},
    {"water", "r", D::Any, "water-source"},
    {"treatment.how", "w", D::Any, "none|stand|aerate|neutralize"},
    {"treatment.from", "i"},
    {"treatment.to", "i"},
    {"target", "r", D::Any, "block"},
    {"met_water", "i"},
    {"air_on", "i"},
    {"air_off", "i"},
    {"verdict.word", "w", D::Any, "ready|hold|do-not-use"},
    {"verdict.by", "r", D::Any, "person"},
    {"verdict.why", "t"},
    {"verdict.at", "i"},
};
constexpr FieldDef kBrewLine[] = {
    {"brew", "r", D::Any, "brew", true},
    {"amount.lot", "r", D::Any, "lot"},
    {"amount.amount", "q", D::Any},
};
constexpr FieldDef kEvent[] = {
    {"brew", "r", D::Any, "brew", true},
    {"what", "w", D::Any, "fed|topped-up|moved|power-cut", true},
    {"at", "i"},
    {"amount", "q", D::Any},
    {"note", "t"},
};
constexpr FieldDef kReading[] = {
    {"of", "r", D::Any, "brew|heap|water-source|pass", true},
    {"quantity", "w", D::Any,
     "temperature|oxygen|ph|ec|smell|foam|moisture|wind|humidity", true},
    {"value.value", "nqw", D::Any, "earthy|sweet|sour|foul|none|low|high|over"},
    {"value.instrument", "t"},
    {"at", "i"},
    {"checked", "d"},  // the instrument's last check
};
constexpr FieldDef kPass[] = {
    {"farm", "r", D::Any, "farm", true},
    {"number", "n"},
    {"rig", "r", D::Any, "rig"},
    {"calibration", "r", D::Any, "calibration"},
    {"aim", "w", D::Any, "leaf|soil|drench", true},
    {"people", "l"},  // person ids
    {"start", "i", D::Any, {}, true},
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
    {"rates.area", "w", D::Any, "bed-top|swath"},
    {"walk.way", "w", D::Any, "turn|same"},
    {"walk.from", "w", D::Any, "zero|far"},
    {"beds", "l"},    // bed ids in walking order, as planned
    {"undone", "n"},  // presses taken back within the pass
};
constexpr FieldDef kLoad[] = {
    {"pass", "r", D::Any, "pass", true},
    {"number", "n"},
    {"mix.brew", "r", D::Any, "brew"},
    {"mix.tea", "q", D::Volume},
    {"mix.source", "r", D::Any, "water-source"},
    {"mix.water", "q", D::Volume},
    {"filled", "i"},
    {"before.held", "t"},  // what the tank last held, 'x' = not known
    {"before.cleaned", "b"},
    {"left", "q", D::Volume},  // left in the tank at the load's end
    {"closed", "i"},
};
constexpr FieldDef kLoadLine[] = {
    {"load", "r", D::Any, "load", true},
    {"amount.lot", "r", D::Any, "lot"},
    {"amount.amount", "q", D::Any},
};
constexpr FieldDef kDose[] = {
    {"what.load", "r", D::Any, "load", true},
    {"what.bed", "r", D::Any, "bed", true},
    {"what.from", "q", D::Length},
    {"what.to", "q", D::Length},
    {"what.width", "q", D::Length},
    {"what.volume", "q", D::Volume},  // only if measured
    {"what.how", "w", D::Any, "done|part|skipped", true},
    {"when.start", "i"},
    {"when.finish", "i"},
    {"note", "t"},
};
constexpr FieldDef kDiscard[] = {
    {"of", "r", D::Any, "brew|load", true},
    {"volume", "q", D::Volume},
    {"where.place", "r", D::Any, "heap|bed|block"},
    {"where.words", "t"},
    {"at", "i"},
};
constexpr FieldDef kWash[] = {
    {"of", "r", D::Any, "vessel|rig", true},
    {"held", "t"},
    {"how.method", "t"},
    {"how.lot", "r", D::Any, "lot"},
    {"how.strength", "t"},
    {"rinsed", "b"},
    {"by", "r", D::Any, "person"},
    {"at", "i"},
};
constexpr FieldDef kHarvest[] = {
    {"bed", "r", D::Any, "bed", true},
    {"stretch.from", "q", D::Length},
    {"stretch.to", "q", D::Length},
    {"planting", "r", D::Any, "planting"},
    {"at", "i", D::Any, {}, true},
    {"amount", "q", D::Any},
    {"code", "t"},
    {"by", "r", D::Any, "person"},
};
constexpr FieldDef kSale[] = {
    {"harvest", "r", D::Any, "harvest", true},
    {"amount", "q", D::Any},
    {"to", "t"},
    {"at", "i"},
};
constexpr FieldDef kHold[] = {
    {"bed", "r", D::Any, "bed", true},
    {"stretch.from", "q", D::Length},
    {"stretch.to", "q", D::Length},
    {"what", "w", D::Any, "harvest|entry|both", true},
    {"until", "i"},  // none = until released
    {"why", "t", D::Any, {}, true},
};
constexpr FieldDef kRelease[] = {
    {"hold", "r", D::Any, "hold", true},
    {"why", "t", D::Any, {}, true},
    {"at", "i"},
};
constexpr FieldDef kPlan[] = {
    {"what", "w", D::Any, "brew|pass|pick", true},
    {"farm", "r", D::Any, "farm"},  // a pass or a picking; a brew's plan lies in the house
    {"at", "i"},
    {"beds", "l"},
    {"recipe", "r", D::Any, "recipe"},
    {"vessel", "r", D::Any, "vessel"},
    {"volume", "q", D::Volume},
    {"rates.tea", "q", D::VolumePerArea},
    {"rates.spray", "q", D::VolumePerArea},
    {"rates.area", "w", D::Any, "bed-top|swath"},
    {"became", "r", D::Any, "brew|pass|harvest"},
    {"not_done", "t"},
};
constexpr FieldDef kNote[] = {
    {"of", "r", D::Any, {}, true},
    {"text", "t", D::Any, {}, true},
    {"at", "i"},
};

constexpr FieldDef kCommon[] = {
    {"struck", "t"},       // reason, never blank; 'x' restores
    {"late.at", "i"},      // when it happened, if written later
    {"late.from", "w", D::Any, "paper|memory"},
    {"same_as", "r"},      // this record and that one are one thing
    {"not_same", "l"},     // ids that somebody said are not the same thing
    {"settled", "l"},      // ids of other entries about which 'Same bed, twice?' was answered
};

constexpr KindDef kKinds[] = {
    {"book", Share::HouseBase, {}, kBook},
    {"farm", Share::FarmBase, {}, kFarm},
    {"limit", Share::FarmBase, {}, kLimit},
    {"interval", Share::FarmBase, {}, kInterval},
    {"block", Share::FarmBase, {}, kBlock},
    {"bed", Share::FarmBase, {}, kBed},
    {"planting", Share::FarmBase, {}, kPlanting},
    {"water-source", Share::HouseBase, {}, kWaterSource},
    {"person", Share::HouseBase, {}, kPerson},
    {"material", Share::HouseBase, {}, kMaterial},
    {"label-line", Share::OfParent, "material", kLabelLine},
    {"lot", Share::HouseBase, {}, kLot},
    {"vessel", Share::HouseBase, {}, kVessel},
    {"rig", Share::HouseBase, {}, kRig},
    {"calibration", Share::OfParent, "rig", kCalibration},
    {"recipe", Share::HouseBase, {}, kRecipe},
    {"recipe-line", Share::OfParent, "recipe", kRecipeLine},
    {"brew", Share::HouseYear, {}, kBrew},
    {"brew-line", Share::OfParent, "brew", kBrewLine},
    {"event", Share::OfParent, "brew", kEvent},
    {"reading", Share::OfParent, "of", kReading},
    {"pass", Share::FarmYear, {}, kPass},
    {"load", Share::OfParent, "pass", kLoad},
    {"load-line", Share::OfParent, "load", kLoadLine},
    {"dose", Share::OfParent, "what.load", kDose},
    {"discard", Share::OfParent, "of", kDiscard},
    {"wash", Share::HouseYear, {}, kWash},
    {"harvest", Share::FarmYear, {}, kHarvest},
    {"sale", Share::OfParent, "harvest", kSale},
    {"hold", Share::FarmYear, {}, kHold},
    {"release", Share::OfParent, "hold", kRelease},
    {"plan", Share::FarmYear, {}, kPlan},
    {"note", Share::OfParent, "of", kNote},
};

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
