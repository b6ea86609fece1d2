#include "book/amount_kinds.h"

#include <algorithm>
#include <span>

#include "base/text.h"
#include "book/spelled.h"

namespace steep {
namespace {

using D = Dimension;

/// One kind of quantity, from where to where it is usual (SI). Beyond that a slip is likelier than the value, which is asked.
struct Usual {
  Dimension dimension;
  double least, most;
  WordId more = "check.unusual"_w;  ///< The sentence for too much; others than this one offer a tenth.
};

constexpr double kNoEnd = 1e300;
constexpr double kHottest = 90 + 273.15;   // K; a heap may reach 80 °C. Common practice, no source.
constexpr double kColdest = -50 + 273.15;  // K
constexpr double kMostOxygen = 0.020;      // kg/m³; fresh water holds 14.6 mg/L at 0 °C (Benson & Krause).
constexpr double kHurricane = 50;          // m/s
constexpr double kInchDeep = 0.0254;       // m³/m²: an inch of water, 27,154 gal/acre.
constexpr double kGreatVessel = 20;        // m³, 5,280 gal

constexpr Usual kHeat[] = {{D::Temperature, kColdest, kHottest, "check.too-hot"_w}};
constexpr Usual kOxygen[] = {{D::MassPerVolume, 0, kMostOxygen, "check.too-much-oxygen"_w}, {D::Share, 0, 2}};
constexpr Usual kSalt[] = {{D::Conductivity, 0, 10}};  // 100 mS/cm
constexpr Usual kWholeShare[] = {{D::Share, 0, 1}};
constexpr Usual kWind[] = {{D::Speed, 0, kHurricane}};
constexpr Usual kAir[] = {{D::Temperature, kColdest, 60 + 273.15}};
constexpr Usual kLiquid[] = {{D::Volume, 0, kGreatVessel}};
constexpr Usual kRate[] = {{D::VolumePerArea, 0, kInchDeep}};
constexpr Usual kWentIn[] = {{D::Mass, 0, 5000}, {D::Volume, 0, kGreatVessel}, {D::Count, 0, 10'000}};
constexpr Usual kBought[] = {{D::Mass, 0, 1e6}, {D::Volume, 0, 1000}, {D::Count, 0, 1e6}};
constexpr Usual kPicked[] = {{D::Mass, 0, 2000}, {D::Volume, 0, 5}, {D::Count, 0, 20'000}};
constexpr Usual kLabelRate[] = {{D::Mass, 0, kNoEnd},
                                {D::Volume, 0, kNoEnd},
                                {D::Count, 0, kNoEnd},
                                {D::MassPerArea, 0, kNoEnd},
                                {D::VolumePerArea, 0, kNoEnd},
                                {D::MassPerVolume, 0, kNoEnd},
                                {D::VolumePerVolume, 0, kNoEnd},
                                {D::Share, 0, kNoEnd}};

struct AmountField {
  std::string_view kind, field;
  std::string_view word;  ///< Of the deciding field; empty = any.
  std::span<const Usual> usual;
};
// The first that fits counts.
constexpr AmountField kAmounts[] = {
    {"reading", "value.value", "temperature", kHeat},
    {"reading", "value.value", "oxygen", kOxygen},
    {"reading", "value.value", "ec", kSalt},
    {"reading", "value.value", "moisture", kWholeShare},
    {"reading", "value.value", "humidity", kWholeShare},
    {"reading", "value.value", "wind", kWind},
    {"event", "amount", "topped-up", kLiquid},
    {"event", "amount", "", kWentIn},
    {"label-line", "rate.amount", "", kLabelRate},
    {"lot", "quantity", "", kBought},
    {"recipe-line", "amount.low", "", kWentIn},
    {"recipe-line", "amount.high", "", kWentIn},
    {"brew-line", "amount.amount", "", kWentIn},
    {"load-line", "amount.amount", "", kWentIn},
    {"harvest", "amount", "", kPicked},
    {"sale", "amount", "", kPicked},
    {"vessel", "volume.nominal", "", kLiquid},
    {"vessel", "volume.working", "", kLiquid},
    {"rig", "tank.volume", "", kLiquid},
    {"brew", "fill", "", kLiquid},
    {"load", "mix.tea", "", kLiquid},
    {"load", "mix.water", "", kLiquid},
    {"load", "left", "", kLiquid},
    {"dose", "what.volume", "", kLiquid},
    {"discard", "volume", "", kLiquid},
    {"plan", "volume", "", kLiquid},
    {"plan", "rates.tea", "", kRate},
    {"plan", "rates.spray", "", kRate},
    {"pass", "rates.tea", "", kRate},
    {"pass", "rates.spray", "", kRate},
    {"calibration", "result.rate", "", kRate},
    {"pass", "weather_start.wind", "", kWind},
    {"pass", "weather_finish.wind", "", kWind},
    {"pass", "weather_start.temperature", "", kAir},
    {"pass", "weather_finish.temperature", "", kAir},
};

constexpr ReadingKind kReadings[] = {
    {"temperature"},
    {"oxygen"},
    {"ec"},
    {"moisture"},
    {"wind"},
    {"humidity"},
    {"ph", true},
    {"smell", false, "earthy|sweet|sour|foul|none"},
    {"foam", false, "none|low|high|over"},
};

std::span<const Usual> usual_of(std::string_view kind, std::string_view field, std::string_view word) {
  for (const AmountField& row : kAmounts)
    if (row.kind == kind && row.field == field && (row.word.empty() || row.word == word)) return row.usual;
  return {};
}

Result<void> check_usual(const Usual& usual, std::string_view field, const Written& amount) {
  const double si_amount = si(amount).to_double();
  if (si_amount >= usual.least && si_amount <= usual.most) return {};
  const std::string typed = amount_value_text(amount);
  if (si_amount > usual.most && usual.more != "check.unusual"_w)
    return refuse(Trouble::Ask, usual.more,
                  {typed, amount_value_text(write_quantity(amount.amount.to_double() / 10, *amount.unit, 4))}, field);
  const auto end = [&](double at) {
    return amount_value_text(write_quantity(amount_in(at, *amount.unit), *amount.unit, 1));
  };
  return refuse(Trouble::Ask, "check.unusual"_w, {typed, end(usual.least), end(usual.most)}, field);
}

Result<void> check_ph(std::string_view number) {
  const double ph = parse_decimal(number).value_or(-1);
  if (ph >= 0 && ph <= 14) return {};
  return refuse(Trouble::BadInput, "check.ph"_w, {number, decimal(ph / 10, 4)}, "value.value");
}

bool is_word_of(std::string_view words, std::string_view word) {
  const auto all = split(words, '|');
  return std::find(all.begin(), all.end(), word) != all.end();
}

std::string spaced(std::string_view words) {
  std::string all(words);
  std::replace(all.begin(), all.end(), '|', ' ');
  return all;
}

}  // namespace

std::string_view deciding_field(std::string_view kind) {
  return kind == "reading" ? "quantity" : kind == "event" ? "what" : std::string_view();
}

std::vector<Dimension> amount_dimensions(std::string_view kind, std::string_view field, std::string_view word) {
  std::vector<Dimension> dimensions;
  for (const Usual& usual : usual_of(kind, field, word)) dimensions.push_back(usual.dimension);
  return dimensions;
}

Result<void> check_amount(std::string_view kind, std::string_view field, std::string_view word, const Written& amount) {
  if (amount.amount.is_negative() && amount.dimension() != Dimension::Temperature)
    return refuse(Trouble::BadInput, "check.negative"_w, {amount_value_text(amount)}, field);
  const std::span<const Usual> all = usual_of(kind, field, word);
  if (all.empty()) return {};
  for (const Usual& usual : all)
    if (usual.dimension == amount.dimension()) return check_usual(usual, field, amount);
  return refuse(Trouble::BadInput, wrong_kind_word(amount_dimensions(kind, field, word)), {amount_value_text(amount)},
                field);
}

const ReadingKind* find_reading_kind(std::string_view quantity) {
  for (const ReadingKind& kind : kReadings)
    if (kind.quantity == quantity) return &kind;
  return nullptr;
}

Result<void> check_reading(std::string_view quantity, const FieldValue& value) {
  const ReadingKind* kind = find_reading_kind(quantity);
  if (!kind || value.type == FieldType::NotTaken) return {};
  if (kind->bare)
    return value.type == FieldType::Number ? check_ph(value.text)
                                           : refuse(Trouble::BadInput, "check.number"_w, {value.text}, "value.value");
  if (!kind->words.empty()) {
    if (value.type == FieldType::Word && is_word_of(kind->words, value.text)) return {};
    return refuse(Trouble::BadInput, "enter.word"_w, {value.text, spaced(kind->words)}, "value.value");
  }
  if (value.type == FieldType::Quantity)
    if (const auto amount = parse_written(value.text)) return check_amount("reading", "value.value", quantity, *amount);
  // A word, or a number without its unit.
  return refuse(Trouble::BadInput, wrong_kind_word(amount_dimensions("reading", "value.value", quantity)), {value.text},
                "value.value");
}

}  // namespace steep
