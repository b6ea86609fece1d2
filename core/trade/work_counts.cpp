// The calculations 'fields' and 'plates'.
#include <vector>

#include "trade/microscope.h"
#include "trade/plates.h"
#include "trade/poisson.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

/// '95 %', for notes.
std::string percent(double share) { return figure(100 * share, 4) + " %"; }

/// Scatter this unlikely by chance alone is worth a word.
constexpr double kUnlikely = 0.01;
/// How its chance is found.
constexpr const char* kScatter = "P(χ² ≥ Σ (x − mean)² / mean; n − 1)";

// fields

constexpr InputSpec kFieldsInputs[] = {
    plain_input("count", InputKind::Whole, "work-input.count"_w).repeated(),
    plain_input("fields", InputKind::Whole, "work-input.fields"_w).optional(),
    quantity_input("field-number", Dimension::Length, "work-input.field-number"_w).optional(),
    plain_input("objective", InputKind::Number, "work-input.objective"_w).optional(),
    plain_input("tube-factor", InputKind::Number, "work-input.tube-factor"_w).or_standard("1"),
    quantity_input("field-diameter", Dimension::Length, "work-input.field-diameter"_w).optional(),
    quantity_input("cover", Dimension::Area, "work-input.cover"_w).optional(),
    quantity_input("drop", Dimension::Volume, "work-input.drop"_w).optional(),
    quantity_input("square", Dimension::Area, "work-input.square"_w).optional(),
    quantity_input("depth", Dimension::Length, "work-input.chamber-depth"_w).optional(),
    plain_input("dilution", InputKind::Number, "work-input.dilution"_w).or_standard("1"),
    quantity_input("confidence", Dimension::Share, "work-input.confidence"_w).or_standard("95 %"),
};
constexpr OutputSpec kFieldsOutputs[] = {
    {"per-ml", OutputKind::Fixed, "/mL", 3, "work-result.per-ml"_w},
    {"low", OutputKind::Fixed, "/mL", 3, "work-result.interval-low"_w},
    {"high", OutputKind::Fixed, "/mL", 3, "work-result.interval-high"_w},
    {"mean", OutputKind::Fixed, "", 3, "work-result.mean-per-field"_w},
    {"field-diameter", OutputKind::Fixed, "mm", 3, "work-result.field-diameter"_w},
    {"film-depth", OutputKind::Fixed, "mm", 3, "work-result.film-depth"_w},
    {"looked-at", OutputKind::Fixed, "uL", 3, "work-result.looked-at"_w},
    {"scatter-chance", OutputKind::Fixed, "%", 2, "work-result.scatter-chance"_w},
};
const extern Calculation kFields;

/// Diameter given, or from the field number and the objective.
Result<Length> diameter_of(const Inputs& in, Answer& answer) {
  if (const auto diameter = in.maybe<Length>("field-diameter")) {
    answer.step("field-diameter", "d", figure(diameter->millimeters()) + " mm");
    return *diameter;
  }
  const auto field_number = in.maybe<Length>("field-number");
  const Value* objective = in.find("objective");
  if (!field_number || !objective) return refuse(Trouble::BadInput, "count.which-way"_w, {}, "field-number");
  const double tube = in["tube-factor"].number;
  TRY_ASSIGN(const Length diameter, field_diameter(*field_number, objective->number, tube));
  answer.step("field-diameter", "d = field number / (objective · tube factor)",
              figure(field_number->millimeters()) + " mm / (" + figure(objective->number) + " × " + figure(tube) +
                  ") = " + figure(diameter.millimeters()) + " mm");
  return diameter;
}

/// The volume that one field or square shows.
Result<Volume> volume_of_one(const Inputs& in, Answer& answer) {
  const auto square = in.maybe<Area>("square"), cover = in.maybe<Area>("cover");
  const auto depth = in.maybe<Length>("depth");
  const auto drop = in.maybe<Volume>("drop");
  const bool is_chamber = square || depth;
  if (is_chamber ? !square || !depth || cover || drop : !cover || !drop)
    return refuse(Trouble::BadInput, "count.which-way"_w, {}, "cover");
  if (is_chamber) {
    TRY_ASSIGN(const Volume one, chamber_volume(*square, *depth));
    answer.step("looked-at", "v = square · depth",
                figure(square->si() * 1e6) + " mm2 × " + figure(depth->millimeters()) +
                    " mm = " + figure(one.milliliters() * 1000) + " uL");
    return one;
  }
  TRY_ASSIGN(const Length diameter, diameter_of(in, answer));
  TRY_ASSIGN(const Area field, field_area(diameter));
  TRY_ASSIGN(const Volume one, field_volume(field, *cover, *drop));
  TRY_ASSIGN(const Length film, film_depth(*drop, *cover));
  answer.number("field-diameter", diameter.millimeters());
  answer.number("film-depth", film.millimeters());
  answer.step("film-depth", "depth = drop / cover",
              figure(drop->milliliters() * 1000) + " uL / " + figure(cover->si() * 1e6) +
                  " mm2 = " + figure(film.millimeters()) + " mm");
  answer.step("looked-at", "v = drop · (π d² / 4) / cover",
              figure(drop->milliliters() * 1000) + " uL × " + figure(field.si() * 1e6) + " mm2 / " +
                  figure(cover->si() * 1e6) + " mm2 = " + figure(one.milliliters() * 1000) + " uL");
  answer.note("count.focus-through"_w);
  return one;
}

/// Says when counts of single fields scatter more than chance lets them.
Result<void> tell_scatter(std::span<const std::int64_t> counts, Answer& answer) {
  if (counts.size() < 2) return {};
  const std::vector<double> same(counts.size(), 1.0);
  TRY_ASSIGN(const double chance, chance_of_scatter(counts, same));
  answer.number("scatter-chance", 100 * chance);
  answer.step("scatter-chance", kScatter,
              "n = " + std::to_string(counts.size()) + " → " + figure(100 * chance, 3) + " %");
  if (chance < kUnlikely) answer.caution("count.clumped"_w);
  return {};
}

Result<Answer> run_fields(const Inputs& in) {
  std::vector<std::int64_t> counts;
  std::int64_t total = 0;
  for (const Value* one : in.all("count")) {
    TRY(poisson_interval(one->number > 1e9 ? -1 : static_cast<std::int64_t>(one->number)));
    counts.push_back(static_cast<std::int64_t>(one->number));
    total += counts.back();
  }
  const Value* given = in.find("fields");
  const double fields = given ? given->number : static_cast<double>(counts.size());
  if (!(fields >= 1) || (counts.size() > 1 && fields != static_cast<double>(counts.size())))
    return refuse(Trouble::BadInput, "count.fields"_w, {}, "fields");
  Answer answer(kFields);
  TRY_ASSIGN(const Volume one, volume_of_one(in, answer));
  const double dilution = in["dilution"].number, confidence = in.get<Share>("confidence").ratio();
  TRY_ASSIGN(const CellCount& cells, cells_per_ml(total, one * fields, dilution, confidence));
  answer.number("per-ml", cells.per_ml);
  answer.number("low", cells.low);
  answer.number("high", cells.high);
  answer.number("mean", static_cast<double>(total) / fields);
  answer.number("looked-at", one.milliliters() * 1000 * fields);
  answer.step("looked-at", "V = fields · v",
              figure(fields) + " × " + figure(one.milliliters() * 1000) +
                  " uL = " + figure(one.milliliters() * 1000 * fields) + " uL");
  answer.step("mean", "count / fields",
              figure(static_cast<double>(total), 12) + " / " + figure(fields) + " = " +
                  figure(static_cast<double>(total) / fields));
  answer.step("per-ml", "N = count / (fields · v) · dilution",
              figure(static_cast<double>(total), 12) + " / (" + figure(fields) + " × " + figure(one.milliliters()) +
                  " mL) × " + figure(dilution) + " = " + figure(cells.per_ml) + " /mL");
  TRY_ASSIGN(const CountLimits& limits, poisson_interval(total, confidence));
  answer.step("low high", "χ²(α/2; 2n)/2 … χ²(1 − α/2; 2n + 2)/2",
              figure(limits.low) + " … " + figure(limits.high) + " → " + figure(cells.low) + " … " +
                  figure(cells.high) + " /mL");
  TRY(tell_scatter(counts, answer));
  answer.note("count.chance-alone"_w, {percent(confidence)});
  if (total == 0) answer.note("count.none-seen"_w);
  answer.note("count.no-safety"_w);
  return answer;
}

const Calculation kFields{"fields",
                          "count",
                          "work.fields"_w,
                          kFieldsInputs,
                          kFieldsOutputs,
                          "geometry of the field and the film; Garwood 1936, exact limits of a Poisson count",
                          "--count 412 --fields 20 --field-number \"20 mm\" --objective 40 --cover \"324 mm2\" --drop "
                          "\"0.05 mL\" --dilution 5",
                          run_fields};

// plates

constexpr InputSpec kPlateColumns[] = {
    plain_input("dilution", InputKind::Number, "work-input.dilution"_w),
    plain_input("colonies", InputKind::Whole, "work-input.colonies"_w).optional(),
    word_input("state", "counted|too-many|spreader|accident", "work-input.plate-state"_w).or_standard("counted"),
};
constexpr InputSpec kPlatesInputs[] = {
    row_input("plate", kPlateColumns, "work-input.plate"_w).repeated(),
    quantity_input("plated", Dimension::Volume, "work-input.plated"_w).or_standard("1 mL"),
    word_input("range", "25-250|15-300", "work-input.counting-range"_w).or_standard("25-250"),
    quantity_input("plate-area", Dimension::Area, "work-input.plate-area"_w).optional(),
    quantity_input("confidence", Dimension::Share, "work-input.confidence"_w).or_standard("95 %"),
};
constexpr OutputSpec kPlatesOutputs[] = {
    {"reported", OutputKind::Fixed, "/mL", 2, "work-result.cfu-reported"_w},
    {"reading", OutputKind::Word, "", 0, "work-result.cfu-reading"_w},
    {"cfu-per-ml", OutputKind::Fixed, "/mL", 3, "work-result.cfu"_w},
    {"low", OutputKind::Fixed, "/mL", 3, "work-result.interval-low"_w},
    {"high", OutputKind::Fixed, "/mL", 3, "work-result.interval-high"_w},
    {"colonies", OutputKind::Whole, "", 0, "work-result.colonies"_w},
    {"plates", OutputKind::Whole, "", 0, "work-result.plates-used"_w},
    {"scatter-chance", OutputKind::Fixed, "%", 2, "work-result.scatter-chance"_w},
};
const extern Calculation kPlates;

Plate plate_of(const Value& row, Volume plated) {
  Plate plate;
  plate.dilution = row.columns[0]->number;
  plate.plated = plated;
  if (row.columns[1]) plate.colonies = static_cast<std::int64_t>(std::min(row.columns[1]->number, 1e9));
  const std::string& state = row.columns[2]->text;
  plate.state = state == "too-many"   ? PlateState::TooMany
                : state == "spreader" ? PlateState::Spreader
                : state == "accident" ? PlateState::Accident
                                      : PlateState::Counted;
  return plate;
}

std::string_view reading_word(PlateCount::Kind kind) {
  switch (kind) {
    case PlateCount::Kind::Counted: return "counted";
    case PlateCount::Kind::Estimated: return "estimated";
    case PlateCount::Kind::FewerThan: return "fewer-than";
    case PlateCount::Kind::MoreThan: return "more-than";
  }
  return "";
}

Result<Answer> run_plates(const Inputs& in) {
  std::vector<Plate> plates;
  for (const Value* row : in.all("plate")) plates.push_back(plate_of(*row, in.get<Volume>("plated")));
  const CountingRange range = in["range"].text == "25-250" ? kBamRange : kBamLaterRange;
  const double confidence = in.get<Share>("confidence").ratio();
  TRY_ASSIGN(const PlateCount& count, plate_count(plates, range, in.maybe<Area>("plate-area"), confidence));
  const bool is_bound = count.kind == PlateCount::Kind::FewerThan || count.kind == PlateCount::Kind::MoreThan;
  const double reported = two_digits_bam(count.per_ml);
  Answer answer(kPlates);
  answer.number("reported", reported);
  answer.text("reading", std::string(reading_word(count.kind)));
  if (!is_bound) answer.number("cfu-per-ml", count.per_ml);
  if (count.limits) {
    answer.number("low", count.limits->low);
    answer.number("high", count.limits->high);
  }
  answer.number("colonies", static_cast<double>(count.colonies));
  answer.number("plates", count.plates);
  const std::string sum = figure(static_cast<double>(count.colonies), 12), sample = figure(count.sample.milliliters());
  if (is_bound)
    answer.step("reported reading",
                count.kind == PlateCount::Kind::MoreThan ? "N > 100 · cm2 / V"
                : count.colonies == 0                    ? "N < 1 / V"
                                                         : "N < " + std::to_string(range.least) + " / V",
                "→ " + figure(count.per_ml));
  else
    answer.step("reported cfu-per-ml", "N = ΣC / ΣV",
                sum + " / " + sample + " mL = " + figure(count.per_ml) + " → " + figure(reported));
  if (!is_bound)
    answer.step("reading", std::to_string(range.least) + "–" + std::to_string(range.most),
                std::string(reading_word(count.kind)));
  if (count.limits)
    answer.step(
        "low high", "χ²(α/2; 2C)/2V … χ²(1 − α/2; 2C + 2)/2V",
        "C = " + sum + ", V = " + sample + " mL → " + figure(count.limits->low) + " … " + figure(count.limits->high));
  answer.step("colonies plates", "C = ΣC", sum + ", n = " + std::to_string(count.plates));
  if (count.scatter) {
    answer.number("scatter-chance", 100 * *count.scatter);
    answer.step("scatter-chance", kScatter,
                "n = " + std::to_string(count.plates) + " → " + figure(100 * *count.scatter, 3) + " %");
    if (*count.scatter < kUnlikely) answer.caution("plates.disagree"_w);
  }
  if (count.kind == PlateCount::Kind::Estimated) answer.note("plates.estimated"_w);
  if (count.limits) answer.note("count.chance-alone"_w, {percent(confidence)});
  answer.note("plates.per-gram"_w);
  answer.caution("count.keep-closed"_w);
  answer.note("count.no-safety"_w);
  return answer;
}

const Calculation kPlates{"plates",
                          "count",
                          "work.plates"_w,
                          kPlatesInputs,
                          kPlatesOutputs,
                          "FDA Bacteriological Analytical Manual, chapter 3 (2001): 25-250; its later edition: 15-300",
                          "--plate \"100; 232\" --plate \"100; 244\" --plate \"1000; 33\" --plate \"1000; 28\"",
                          run_plates};

const Calculation kAll[] = {kFields, kPlates};

}  // namespace

std::span<const Calculation> work_counts() { return kAll; }

}  // namespace steep
