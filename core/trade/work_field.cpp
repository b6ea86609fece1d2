// The calculation 'area'.
#include "trade/geodesy.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

constexpr InputSpec kBedColumns[] = {
    quantity_input("length", Dimension::Length, "work-input.bed-length"_w),
    quantity_input("width", Dimension::Length, "work-input.bed-width"_w),
    plain_input("count", InputKind::Whole, "work-input.bed-count"_w).or_standard("1"),
};
constexpr InputSpec kPointColumns[] = {
    plain_input("latitude", InputKind::Number, "work-input.latitude"_w),
    plain_input("longitude", InputKind::Number, "work-input.longitude"_w),
};
constexpr InputSpec kInputs[] = {
    row_input("bed", kBedColumns, "work-input.bed"_w).repeated().optional(),
    row_input("point", kPointColumns, "work-input.point"_w).repeated().optional(),
};
constexpr OutputSpec kOutputs[] = {
    {"area", OutputKind::Quantity, "m2", 4, "work-result.area"_w},
    {"area-acres", OutputKind::Quantity, "acre", 5, "work-result.area"_w},
    {"area-square-feet", OutputKind::Quantity, "ft2", 1, "work-result.area"_w},
    {"bed-length", OutputKind::Quantity, "ft", 1, "work-result.bed-length"_w},
    {"perimeter", OutputKind::Quantity, "m", 3, "work-result.perimeter"_w},
};
const extern Calculation kArea;

void answer_area(Answer& answer, Area area) {
  answer.quantity("area", area);
  answer.quantity("area-acres", area);
  answer.quantity("area-square-feet", area);
}

Result<Answer> run_area(const Inputs& in) {
  const auto beds = in.all("bed"), points = in.all("point");
  if (beds.empty() == points.empty()) return refuse(Trouble::BadInput, "area.beds-or-points"_w, {}, "bed");
  Answer answer(kArea);
  if (!points.empty()) {
    std::vector<Place> places;
    for (const Value* row : points) places.push_back({row->columns[0]->number, row->columns[1]->number});
    TRY_ASSIGN(const Area area, polygon_area(places));
    TRY_ASSIGN(const Length around, polygon_perimeter(places));
    answer_area(answer, area);
    answer.quantity("perimeter", around);
    answer.step("perimeter", "Σ s (WGS 84)", std::to_string(places.size()) + " → " + figure(around.meters(), 9) + " m");
    answer.step("area area-acres area-square-feet", "A = R² · E (authalic sphere of WGS 84)",
                std::to_string(places.size()) + " → " + figure(area.square_meters(), 9) + " m2");
    return answer;
  }
  Area area;
  Length length;
  for (const Value* row : beds) {
    const Length l = row->columns[0]->as<Length>(), w = row->columns[1]->as<Length>();
    const double count = row->columns[2]->number;
    if (!(l.si() > 0) || !(w.si() > 0) || !(count >= 1)) return refuse(Trouble::BadInput, "loads.no-area"_w, {}, "bed");
    area += l * w * count;
    length += l * count;
    answer.step("area area-acres area-square-feet", "n · length · width",
                figure(count) + " × " + figure(l.feet()) + " ft × " + figure(w.feet()) +
                    " ft = " + figure((l * w * count).square_feet()) + " ft2");
    answer.step("bed-length", "n · length",
                figure(count) + " × " + figure(l.feet()) + " ft = " + figure((l * count).feet()) + " ft");
  }
  answer_area(answer, area);
  answer.quantity("bed-length", length);
  return answer;
}

const Calculation kArea{"area",
                        "field",
                        "work.area"_w,
                        kInputs,
                        kOutputs,
                        "WGS 84; Snyder, USGS Professional Paper 1395 (authalic latitude); Vincenty 1975 (perimeter)",
                        "--bed \"100 ft; 30 in; 18\"",
                        run_area};
const Calculation kAll[] = {kArea};

}  // namespace

std::span<const Calculation> work_field() { return kAll; }

}  // namespace steep
