// The calculations 'loads' and 'share'.
#include "trade/how_known_word.h"
#include "trade/loads.h"
#include "trade/share.h"
#include "trade/work_filling.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

// loads

constexpr InputSpec kBedColumns[] = {
    quantity_input("length", Dimension::Length, "work-input.bed-length"_w),
    quantity_input("width", Dimension::Length, "work-input.bed-width"_w),
    plain_input("count", InputKind::Whole, "work-input.bed-count"_w).or_standard("1"),
};
constexpr InputSpec kProductColumns[] = {
    plain_input("name", InputKind::Text, "work-input.product-name"_w),
    quantity_input("rate", Dimension::Number, "work-input.product-rate"_w),
};
constexpr InputSpec kLoadsInputs[] = {
    row_input("bed", kBedColumns, "work-input.bed"_w).repeated(),
    quantity_input("tea-rate", Dimension::VolumePerArea, "work-input.tea-rate"_w),
    quantity_input("spray-rate", Dimension::VolumePerArea, "work-input.spray-rate"_w),
    quantity_input("tank", Dimension::Volume, "work-input.tank"_w),
    quantity_input("dead-volume", Dimension::Volume, "work-input.dead-volume"_w).or_standard("0 L"),
    row_input("product", kProductColumns, "work-input.product"_w).repeated().optional(),
    word_input("split", "equal|full-and-rest", "work-input.split"_w).or_standard("equal"),
    word_input("walk", "same-end|turn-at-each-bed", "work-input.walk"_w).or_standard("same-end"),
};
constexpr OutputSpec kLoadsOutputs[] = {
    {"area", OutputKind::Quantity, "m2", 1, "work-result.area"_w},
    {"tea", OutputKind::Quantity, "L", 2, "work-result.tea-in-all"_w},
    {"water", OutputKind::Quantity, "L", 2, "work-result.water-in-all"_w},
    {"spray", OutputKind::Quantity, "L", 2, "work-result.spray-in-all"_w},
    {"left", OutputKind::Quantity, "L", 2, "work-result.left-in-tank"_w},
    {"tea-rate", OutputKind::Quantity, "gal/acre", 2, "work-result.tea-rate"_w},
    {"tea-rate-metric", OutputKind::Quantity, "L/ha", 1, "work-result.tea-rate"_w},
    {"spray-rate", OutputKind::Quantity, "gal/acre", 2, "work-result.spray-rate"_w},
    {"spray-rate-metric", OutputKind::Quantity, "L/ha", 1, "work-result.spray-rate"_w},
    {"loads", OutputKind::Whole, "", 0, "work-result.loads"_w},
    {"load-*-in-tank", OutputKind::Quantity, "L", 2, "work-result.load-in-tank"_w},
    {"load-*-can-be-sprayed", OutputKind::Quantity, "L", 2, "work-result.load-can-spray"_w},
    {"load-*-add-tea", OutputKind::Quantity, "L", 2, "work-result.load-add-tea"_w},
    {"load-*-add-water", OutputKind::Quantity, "L", 2, "work-result.load-add-water"_w},
    {"load-*-add-product", OutputKind::Text, "", 0, "work-result.load-add-product"_w},
    {"load-*-last-bed", OutputKind::Whole, "", 0, "work-result.load-last-bed"_w},
    {"load-*-ends-at", OutputKind::Quantity, "ft", 1, "work-result.load-ends-at"_w},
};
const extern Calculation kLoads;

Result<std::vector<LoadBed>> beds_of(const Inputs& in) {
  std::vector<LoadBed> beds;
  for (const Value* row : in.all("bed")) {
    const Length length = row->columns[0]->as<Length>(), width = row->columns[1]->as<Length>();
    const double count = row->columns[2]->number;
    if (!(count >= 1 && count <= 10000)) return refuse(Trouble::BadInput, "loads.bed-count"_w, {row->text}, "bed");
    for (int i = 0; i < static_cast<int>(count); ++i) beds.push_back({{Length{}, length}, length * width});
  }
  return beds;
}

/// The unit of what is poured: 'pt' of 'pt/acre'. Of ppm it is mg.
const Unit& unit_above(const Unit& rate) { return unit(rate.word.substr(0, rate.word.rfind('/'))); }

/// Products added to one load: 'load-1-add-product-2'.
Result<void> answer_products(Answer& answer, const Inputs& in, const LoadPlan::Load& load, int number) {
  int product = 0;
  for (const Value* row : in.all("product")) {
    ++product;
    const Written& rate = *row->columns[1]->written;
    const VolumePerArea spray_rate = in.get<VolumePerArea>("spray-rate");
    TRY_ASSIGN(const double amount, product_for(rate, load.to_add.spray(), spray_rate));
    const Unit& poured = unit_above(*rate.unit);
    const double in_unit = amount_in(amount, poured);
    const std::string told = figure(in_unit, 3) + " " + std::string(poured.word), &name = row->columns[0]->text;
    answer.amount("load-*-add-product", name, {in_unit, in_unit, &poured}, told, number);
    answer.results.back().name += "-" + std::to_string(product);
    const std::string spray = gallons(load.to_add.spray()) + " gal";
    const bool by_area = rate.dimension() == Dimension::VolumePerArea || rate.dimension() == Dimension::MassPerArea;
    answer.named_step("load-*-add-product", name,
                      rate.text + " × " + spray +
                          (by_area ? " / " + figure(spray_rate.gallons_per_acre()) + " gal/acre" : "") + " = " + told,
                      number);
  }
  return {};
}

void answer_load(Answer& answer, const LoadPlan::Load& load, int number) {
  answer.quantity("load-*-in-tank", load.in_tank.spray(), number);
  answer.quantity("load-*-can-be-sprayed", load.can_spray, number);
  answer.quantity("load-*-add-tea", load.to_add.tea, number);
  answer.quantity("load-*-add-water", load.to_add.water, number);
  answer.number("load-*-last-bed", static_cast<double>(load.last_bed) + 1, number);
  answer.quantity("load-*-ends-at", load.ends_at, number);
}

std::string mix_text(const Mix& mix) { return gallons(mix.tea) + " + " + gallons(mix.water) + " gal"; }

void explain_load(Answer& answer, const LoadPlanInput& input, const LoadPlan& plan, int number) {
  const LoadPlan::Load& load = plan.loads[static_cast<std::size_t>(number) - 1];
  const std::string count = std::to_string(plan.loads.size()), spray = gallons(load.can_spray);
  if (input.split == LoadSplit::Equal)
    answer.step("load-*-can-be-sprayed", "spray on the beds / loads",
                gallons(plan.on_beds.spray()) + " / " + count + " = " + spray + " gal", number);
  else
    answer.step("load-*-can-be-sprayed", "tank − dead volume, the rest last",
                gallons(input.tank) + " − " + gallons(input.dead) + " → " + spray + " gal", number);
  answer.step("load-*-in-tank", "can be sprayed + dead volume",
              spray + " + " + gallons(input.dead) + " = " + gallons(load.in_tank.spray()) + " gal", number);
  explain_filling(answer, input, plan, number);
}

void explain_loads(Answer& answer, const LoadPlanInput& input, const LoadPlan& plan) {
  const std::string acres = figure(plan.area.acres()) + " acre";
  const std::string tea_rate = figure(input.tea_rate.gallons_per_acre()) + " gal/acre",
                    spray_rate = figure(input.spray_rate.gallons_per_acre()) + " gal/acre";
  const std::string dead = gallons(input.dead), fraction = figure(plan.tea_fraction);
  answer.step("area", "Σ length · width",
              std::to_string(input.beds.size()) + " → " + figure(plan.area.square_feet()) + " ft2 = " + acres);
  answer.step("spray", "spray = spray rate · area + dead volume",
              spray_rate + " × " + acres + " + " + dead + " gal = " + gallons(plan.total.spray()) + " gal");
  answer.step("tea", "tea = spray · tea rate / spray rate",
              gallons(plan.total.spray()) + " gal × " + fraction + " = " + gallons(plan.total.tea) + " gal");
  answer.step(
      "water", "water = spray − tea",
      gallons(plan.total.spray()) + " − " + gallons(plan.total.tea) + " = " + gallons(plan.total.water) + " gal");
  answer.step("left", "left = dead volume", mix_text(plan.left));
  answer.step("tea-rate tea-rate-metric", "tea rate",
              tea_rate + " = " + figure(input.tea_rate.liters_per_hectare()) + " L/ha");
  answer.step("spray-rate spray-rate-metric", "spray rate",
              spray_rate + " = " + figure(input.spray_rate.liters_per_hectare()) + " L/ha");
  answer.step("loads", "loads = spray / (tank − dead volume)",
              gallons(plan.on_beds.spray()) + " / (" + gallons(input.tank) + " − " + dead + ") → " +
                  std::to_string(plan.loads.size()));
  for (std::size_t i = 0; i < plan.loads.size(); ++i) explain_load(answer, input, plan, static_cast<int>(i) + 1);
}

Result<Answer> run_loads(const Inputs& in) {
  LoadPlanInput input;
  TRY_ASSIGN(input.beds, beds_of(in));
  input.tea_rate = in.get<VolumePerArea>("tea-rate");
  input.spray_rate = in.get<VolumePerArea>("spray-rate");
  input.tank = in.get<Volume>("tank");
  input.dead = in.get<Volume>("dead-volume");
  input.split = in["split"].text == "equal" ? LoadSplit::Equal : LoadSplit::FullAndRest;
  input.walk = in["walk"].text == "same-end" ? Walk::SameEnd : Walk::TurnAtEachBed;
  TRY_ASSIGN(const LoadPlan& plan, plan_loads(input));
  Answer answer(kLoads);
  answer.quantity("area", plan.area);
  answer.quantity("tea", plan.total.tea);
  answer.quantity("water", plan.total.water);
  answer.quantity("spray", plan.total.spray());
  answer.quantity("left", plan.left.spray());
  answer.quantity("tea-rate", input.tea_rate);
  answer.quantity("tea-rate-metric", input.tea_rate);
  answer.quantity("spray-rate", input.spray_rate);
  answer.quantity("spray-rate-metric", input.spray_rate);
  answer.number("loads", static_cast<double>(plan.loads.size()));
  for (std::size_t i = 0; i < plan.loads.size(); ++i) {
    answer_load(answer, plan.loads[i], static_cast<int>(i) + 1);
    TRY(answer_products(answer, in, plan.loads[i], static_cast<int>(i) + 1));
  }
  explain_loads(answer, input, plan);
  if (in.find("product")) answer.caution("loads.label-rate"_w);
  answer.note("loads.two-rates"_w);
  if (plan.loads.front().in_tank.spray().liters() > 20) answer.caution("loads.heavy"_w);
  return answer;
}

const Calculation kLoads{
    "loads",
    "spray",
    "work.loads"_w,
    kLoadsInputs,
    kLoadsOutputs,
    "arithmetic of mixing",
    "--bed \"100 ft; 30 in; 18\" --tea-rate \"20 gal/acre\" --spray-rate \"45 gal/acre\" --tank \"4 gal\"",
    run_loads};

// share

constexpr InputSpec kDoseColumns[] = {
    quantity_input("area", Dimension::Area, "work-input.dose-area"_w),
    quantity_input("measured", Dimension::Volume, "work-input.dose-measured"_w).optional(),
};
constexpr InputSpec kShareInputs[] = {
    quantity_input("tea", Dimension::Volume, "work-input.load-tea"_w),
    quantity_input("water", Dimension::Volume, "work-input.load-water"_w),
    quantity_input("left", Dimension::Volume, "work-input.load-left"_w).optional(),
    row_input("dose", kDoseColumns, "work-input.dose"_w).repeated(),
    quantity_input("spray-rate", Dimension::VolumePerArea, "work-input.spray-rate"_w).optional(),
};
constexpr OutputSpec kShareOutputs[] = {
    {"gave", OutputKind::Quantity, "L", 3, "work-result.gave"_w},
    {"tea-share", OutputKind::Quantity, "%", 2, "work-result.tea-share"_w},
    {"dose-*-spray", OutputKind::Quantity, "L", 3, "work-result.dose-spray"_w},
    {"dose-*-tea", OutputKind::Quantity, "L", 3, "work-result.dose-tea"_w},
    {"dose-*-how", OutputKind::Word, "", 0, "work-result.dose-how"_w},
    {"unaccounted", OutputKind::Quantity, "L", 3, "work-result.unaccounted"_w},
};
const extern Calculation kShare;

void explain_dose(Answer& answer, const LoadShares& shares, const DoseShare& dose, const ShownVolume& shown,
                  int number) {
  const std::string area = figure(dose.area.square_meters()) + " m2";
  const std::string spray = shown.spray ? figure(shown.spray->liters()) + " L" : std::string("?");
  if (shown.how == HowKnown::Measured)
    answer.step("dose-*-spray dose-*-how", "measured", spray, number);
  else if (shown.how == HowKnown::Share)
    answer.step("dose-*-spray dose-*-how", "share = (load − left − measured) · area / Σ area",
                figure(shares.gave->liters()) + " L − …, " + area + " → " + spray, number);
  else
    answer.step("dose-*-spray dose-*-how", "~ spray rate · area", area + " → " + spray, number);
  if (shown.tea)
    answer.step("dose-*-tea", "spray · tea / (tea + water)",
                spray + " × " + figure(*shares.tea_fraction) + " = " + figure(shown.tea->liters()) + " L", number);
}

void explain_share(Answer& answer, const LoadVolumes& load, std::span<const DoseShare> doses,
                   const LoadShares& shares) {
  const std::string tea = figure(load.tea->liters()), water = figure(load.water->liters());
  if (shares.gave)
    answer.step(
        "gave", "tea + water − left",
        tea + " + " + water + " − " + figure(load.left->liters()) + " = " + figure(shares.gave->liters()) + " L");
  if (shares.tea_fraction)
    answer.step("tea-share", "tea / (tea + water)",
                tea + " / (" + tea + " + " + water + ") = " + figure(100 * *shares.tea_fraction) + " %");
  for (std::size_t i = 0; i < doses.size(); ++i)
    explain_dose(answer, shares, doses[i], shares.doses[i], static_cast<int>(i) + 1);
  if (shares.unaccounted)
    answer.step("unaccounted", "load − left − Σ measured",
                figure(shares.gave->liters()) + " L − Σ = " + figure(shares.unaccounted->liters()) + " L");
}

Result<Answer> run_share(const Inputs& in) {
  LoadVolumes load;
  load.tea = in.get<Volume>("tea");
  load.water = in.get<Volume>("water");
  load.left = in.maybe<Volume>("left");
  load.closed = load.left.has_value();
  load.spray_rate = in.maybe<VolumePerArea>("spray-rate");
  std::vector<DoseShare> doses;
  for (const Value* row : in.all("dose"))
    doses.push_back({row->columns[0]->as<Area>(),
                     row->columns[1] ? std::optional(row->columns[1]->as<Volume>()) : std::nullopt, false});
  if (load.left && *load.left > *load.tea + *load.water) return refuse(Trouble::BadInput, "share.left"_w, {}, "left");
  const LoadShares shares = share_load(load, doses);
  Answer answer(kShare);
  if (shares.gave) answer.quantity("gave", *shares.gave);
  if (shares.tea_fraction) answer.number("tea-share", 100 * *shares.tea_fraction);
  int number = 0;
  for (const ShownVolume& dose : shares.doses) {
    ++number;
    if (dose.spray) answer.quantity("dose-*-spray", *dose.spray, number);
    if (dose.tea) answer.quantity("dose-*-tea", *dose.tea, number);
    answer.text("dose-*-how", std::string(how_known_word(dose.how)), number);
  }
  if (shares.unaccounted) answer.quantity("unaccounted", *shares.unaccounted);
  if (shares.overdrawn) answer.caution("share.overdrawn"_w);
  explain_share(answer, load, doses, shares);
  return answer;
}

const Calculation kShare{
    "share",
    "spray",
    "work.share"_w,
    kShareInputs,
    kShareOutputs,
    "mass balance; common practice, no source",
    "--tea \"2 gal\" --water \"2 gal\" --left \"0.4 gal\" --dose \"250 ft2\" --dose \"125 ft2; 0.6 gal\"",
    run_share};

const Calculation kAll[] = {kLoads, kShare};

}  // namespace

std::span<const Calculation> work_loads() { return kAll; }

}  // namespace steep
