// The calculations 'convert', 'ratio', 'recipe', 'injector'.
#include <algorithm>

#include "base/text.h"
#include "quantity/unit.h"
#include "trade/injector.h"
#include "trade/ratio.h"
#include "trade/recipe.h"
#include "trade/slip.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

// convert

constexpr InputSpec kConvertInputs[] = {
    quantity_input("amount", Dimension::Number, "work-input.amount"_w),
    plain_input("to", InputKind::Text, "work-input.to"_w),
    quantity_input("density", Dimension::MassPerVolume, "work-input.density"_w).optional(),
};
constexpr OutputSpec kConvertOutputs[] = {
    {"amount", OutputKind::Number, "", 6, "work-result.amount"_w},
    {"unit", OutputKind::Text, "", 0, "work-result.unit"_w},
    {"exact", OutputKind::Text, "", 0, "work-result.exact"_w},
};
const extern Calculation kConvert;

/// The unit meant by `to` for an amount of `dimension`, or for its weight or volume when a density is given.
Result<const Unit*> target_unit(std::string_view to, Dimension dimension, bool has_density, Gallons gallons) {
  const bool substance = has_density && (dimension == Dimension::Mass || dimension == Dimension::Volume);
  const auto fits = [&](const Unit* u) {
    return u->dimension == dimension ||
           (substance && (u->dimension == Dimension::Mass || u->dimension == Dimension::Volume));
  };
  std::vector<const Unit*> fitting;
  for (const UnitMeant& meant : units_meant(to, gallons))
    if (fits(meant.unit) && !meant.loose) fitting.push_back(meant.unit);
  if (fitting.empty()) {
    const auto meant = units_written(to);
    const bool by_density = std::any_of(meant.begin(), meant.end(), [&](const UnitMeant& one) {
      return (one.unit->dimension == Dimension::Mass && dimension == Dimension::Volume) ||
             (one.unit->dimension == Dimension::Volume && dimension == Dimension::Mass);
    });
    return refuse(Trouble::BadInput, by_density ? "work.give-density"_w : "work.no-such-unit"_w, {to}, "to");
  }
  if (fitting.size() > 1) {
    std::vector<std::string> readings{std::string(to)};
    for (const Unit* u : fitting) readings.emplace_back(u->word);
    return refuse(Trouble::Ask, "work.which-unit"_w,
                  {std::string(to), join({readings.begin() + 1, readings.end()}, ", ")}, "to");
  }
  return fitting.front();
}

Result<Answer> run_convert(const Inputs& in) {
  const Written& from = *in["amount"].written;
  const auto density = in.maybe<Density>("density");
  TRY_ASSIGN(const Unit* to, target_unit(in["to"].text, from.dimension(), density.has_value(), in.habits().gallons));
  Answer answer(kConvert);
  if (to->dimension == from.dimension()) {
    const auto exact = convert(from.amount, *from.unit, *to);
    if (!exact) return refuse(Trouble::OutOfRange, "work.too-large"_w, {from.text}, "amount");
    answer.number("amount", exact->to_double());
    answer.text("unit", std::string(to->word));
    answer.text("exact", exact->text());
    answer.step("amount unit exact", std::string(from.unit->word) + " → " + std::string(to->word),
                from.text + " = " + figure(exact->to_double(), 12) + " " + std::string(to->word));
    return answer;
  }
  if (!(density->si() > 0)) return refuse(Trouble::OutOfRange, "work.density"_w, {}, "density");
  const double si_from = si(from).to_double();
  const double si_to = to->dimension == Dimension::Mass ? si_from * density->si() : si_from / density->si();
  answer.number("amount", amount_in(si_to, *to));
  answer.text("unit", std::string(to->word));
  answer.note("work-note.by-density"_w);
  answer.step("amount unit", to->dimension == Dimension::Mass ? "m = V · density" : "V = m / density",
              from.text + ", density = " + figure(density->kilograms_per_cubic_meter()) + " kg/m3 → " +
                  figure(amount_in(si_to, *to)) + " " + std::string(to->word));
  return answer;
}

const Calculation kConvert{"convert",
                           "mix",
                           "work.convert"_w,
                           kConvertInputs,
                           kConvertOutputs,
                           "NIST Handbook 44 App. C; NIST SP 811 App. B (exact factors)",
                           "--amount \"2 1/2 cup\" --to mL",
                           run_convert};

// ratio

constexpr InputSpec kRatioInputs[] = {
    plain_input("ratio", InputKind::Text, "work-input.ratio"_w),
    quantity_input("spray", Dimension::Volume, "work-input.spray"_w).optional(),
    quantity_input("tea", Dimension::Volume, "work-input.tea"_w).optional(),
};
constexpr OutputSpec kRatioOutputs[] = {
    {"tea", OutputKind::Quantity, "L", 3, "work-result.tea"_w},
    {"water", OutputKind::Quantity, "L", 3, "work-result.water"_w},
    {"spray", OutputKind::Quantity, "L", 3, "work-result.spray"_w},
    {"tea-share", OutputKind::Quantity, "%", 2, "work-result.tea-share"_w},
    {"reading-*-tea", OutputKind::Quantity, "L", 3, "work-result.reading-tea"_w},
    {"reading-*-water", OutputKind::Quantity, "L", 3, "work-result.reading-water"_w},
};
const extern Calculation kRatio;

/// `reading` 0: the only one.
void explain_mix(Answer& answer, const Parts& parts, const Mix& mix, int reading) {
  const std::string tea = figure(parts.tea), water = figure(parts.water), all = "(" + tea + " + " + water + ")";
  const std::string spray = figure(mix.spray().liters()) + " L";
  const auto of = [&](std::string_view name) {
    return reading == 0 ? std::string(name) : "reading-*-" + std::string(name);
  };
  answer.step(of("tea"), "tea = spray · tea parts / all parts",
              spray + " × " + tea + " / " + all + " = " + figure(mix.tea.liters()) + " L", reading);
  answer.step(of("water"), "water = spray · water parts / all parts",
              spray + " × " + water + " / " + all + " = " + figure(mix.water.liters()) + " L", reading);
  if (reading != 0) return;
  answer.step("spray", "spray = tea + water",
              figure(mix.tea.liters()) + " + " + figure(mix.water.liters()) + " = " + spray);
  answer.step("tea-share", "tea parts / all parts",
              tea + " / " + all + " = " + figure(100 * parts.tea / parts.all()) + " %");
}

Result<Answer> run_ratio(const Inputs& in) {
  TRY_ASSIGN(const std::vector<Parts>& readings, read_ratio(in["ratio"].text, in.habits().mark));
  const auto spray = in.maybe<Volume>("spray"), tea = in.maybe<Volume>("tea");
  if (spray.has_value() == tea.has_value()) return refuse(Trouble::BadInput, "ratio.one-volume"_w, {}, "spray");
  Answer answer(kRatio);
  int number = 0;
  for (const Parts& parts : readings) {
    TRY_ASSIGN(const Mix& mix, spray ? mix_for_spray(*spray, parts) : mix_from_tea(*tea, parts));
    explain_mix(answer, parts, mix, readings.size() == 1 ? 0 : number + 1);
    if (readings.size() == 1) {
      answer.quantity("tea", mix.tea);
      answer.quantity("water", mix.water);
      answer.quantity("spray", mix.spray());
      answer.number("tea-share", 100 * parts.tea / parts.all());
    } else {
      answer.quantity("reading-*-tea", mix.tea, ++number);
      answer.quantity("reading-*-water", mix.water, number);
      answer.reading("ratio", figure(parts.tea) + ":" + figure(parts.water) + " tea to water", "ratio.reading"_w,
                     {figure(parts.tea), figure(parts.water)});
    }
  }
  if (readings.size() > 1) answer.note("ratio.two-readings"_w, {in["ratio"].text});
  return answer;
}

const Calculation kRatio{"ratio",
                         "mix",
                         "work.ratio"_w,
                         kRatioInputs,
                         kRatioOutputs,
                         "arithmetic; University of Massachusetts (on final volume) and greenhouse suppliers (parts to "
                         "parts) on ratio wording",
                         "--ratio \"1:4 tea to water\" --spray \"15 gal\"",
                         run_ratio};

// recipe

constexpr InputSpec kLineColumns[] = {
    plain_input("material", InputKind::Text, "work-input.material"_w),
    quantity_input("low", Dimension::Volume, "work-input.amount-low"_w).or_by(Dimension::Mass),
    quantity_input("high", Dimension::Volume, "work-input.amount-high"_w).or_by(Dimension::Mass).optional(),
    quantity_input("used", Dimension::Volume, "work-input.amount-used"_w).or_by(Dimension::Mass).optional(),
};
constexpr InputSpec kRecipeInputs[] = {
    quantity_input("reference", Dimension::Volume, "work-input.reference"_w),
    quantity_input("vessel", Dimension::Volume, "work-input.vessel"_w),
    quantity_input("headroom", Dimension::Volume, "work-input.headroom"_w).or_standard("0 L"),
    row_input("line", kLineColumns, "work-input.line"_w).repeated(),
};
constexpr OutputSpec kRecipeOutputs[] = {
    {"fill", OutputKind::Quantity, "L", 2, "work-result.fill"_w},
    {"factor", OutputKind::Number, "", 4, "work-result.factor"_w},
    {"line-*-low-volume", OutputKind::Quantity, "mL", 1, "work-result.line-low"_w},
    {"line-*-high-volume", OutputKind::Quantity, "mL", 1, "work-result.line-high"_w},
    {"line-*-low-weight", OutputKind::Quantity, "g", 1, "work-result.line-low"_w},
    {"line-*-high-weight", OutputKind::Quantity, "g", 1, "work-result.line-high"_w},
    {"line-*-as-written", OutputKind::Text, "", 0, "work-result.line-written"_w},
};
const extern Calculation kRecipe;

/// '10 tbsp', '10–20 tbsp': in the unit in which the recipe is written.
std::string as_written(const AmountRange& amount, const Unit& of) {
  const double low = amount_in(amount.low, of), high = amount_in(amount.high, of);
  constexpr int kDigits = 3;  // Nobody measures finer.
  return figure(low, kDigits) + (low == high ? "" : "–" + figure(high, kDigits)) + " " + std::string(of.word);
}

Result<Answer> run_recipe(const Inputs& in) {
  Answer answer(kRecipe);
  TRY_ASSIGN(const Volume fill, working_volume(in.get<Volume>("vessel"), in.get<Volume>("headroom")));
  const Volume reference = in.get<Volume>("reference");
  TRY_ASSIGN(const double factor, scale_factor(reference, fill));
  answer.quantity("fill", fill);
  answer.number("factor", factor);
  answer.step("fill", "vessel − headroom",
              figure(in.get<Volume>("vessel").liters()) + " − " + figure(in.get<Volume>("headroom").liters()) + " = " +
                  figure(fill.liters()) + " L");
  answer.step("factor", "factor = fill / reference",
              figure(fill.liters()) + " L / " + figure(reference.liters()) + " L = " + figure(factor));
  int number = 0;
  for (const Value* line : in.all("line")) {
    ++number;
    const Value &low = *line->columns[1], &high = line->columns[2] ? *line->columns[2] : low;
    if (low.dimension() != high.dimension())
      return refuse(Trouble::BadInput, "recipe.mixed-kinds"_w, {line->columns[0]->text}, "line");
    TRY_ASSIGN(const AmountRange& scaled, scaled_in_proportion({low.number, high.number}, factor));
    const bool weight = low.dimension() == Dimension::Mass;
    answer.si(weight ? "line-*-low-weight" : "line-*-low-volume", scaled.low, number);
    answer.si(weight ? "line-*-high-weight" : "line-*-high-volume", scaled.high, number);
    const Unit& written = *low.written->unit;
    answer.amount("line-*-as-written", line->columns[0]->text,
                  {amount_in(scaled.low, written), amount_in(scaled.high, written), &written},
                  as_written(scaled, written), number);
    answer.call(number, line->columns[0]->text);
    answer.named_step("line-*-low-volume line-*-high-volume line-*-low-weight line-*-high-weight line-*-as-written",
                      line->columns[0]->text,
                      as_written({low.number, high.number}, *low.written->unit) + " × " + figure(factor) + " = " +
                          as_written(scaled, *low.written->unit),
                      number);
    if (!line->columns[3]) continue;
    const Value& used = *line->columns[3];
    if (used.dimension() != low.dimension())
      return refuse(Trouble::BadInput, "recipe.mixed-kinds"_w, {line->columns[0]->text}, "line");
    const Unit& in_use = *used.written->unit;
    const double amount = used.written->amount.to_double();
    const NamedAmount used_amount{amount, amount, &in_use};
    const NamedAmount meant{amount_in(scaled.low, in_use), amount_in(scaled.high, in_use), &in_use};
    if (const auto slip = likely_slip(used.number, scaled.low, scaled.high))
      answer.caution("recipe.slip"_w, {used.text, figure(slip->factor, 3), as_written(scaled, *used.written->unit)},
                     {{0, used_amount}, {2, meant}});
    else if (compare_use(used.number, scaled) == UseCheck::Above)
      answer.caution("recipe.more"_w, {line->columns[0]->text, used.text, as_written(scaled, *used.written->unit)},
                     {{1, used_amount}, {2, meant}});
  }
  return answer;
}

const Calculation kRecipe{"recipe",
                          "mix",
                          "work.recipe"_w,
                          kRecipeInputs,
                          kRecipeOutputs,
                          "arithmetic; amounts are the farm's recipe",
                          "--reference \"25 gal\" --vessel \"275 gal\" --headroom \"25 gal\" --line \"compost; 5 lb\" "
                          "--line \"kelp; 1/2 cup\" --line \"humic; 1 tbsp; 2 tbsp\"",
                          run_recipe};

// injector

constexpr InputSpec kInjectorInputs[] = {
    plain_input("ratio", InputKind::Number, "work-input.injector-ratio"_w),
    word_input("meaning", "on-final-volume|to-parts-of-water", "work-input.injector-meaning"_w),
    quantity_input("volume", Dimension::Volume, "work-input.final-volume"_w),
    quantity_input("flow", Dimension::Flow, "work-input.outflow"_w).optional(),
    quantity_input("drawn", Dimension::Volume, "work-input.drawn"_w).optional(),
    quantity_input("came-out", Dimension::Volume, "work-input.came-out"_w).optional(),
};
constexpr OutputSpec kInjectorOutputs[] = {
    {"concentrate", OutputKind::Quantity, "L", 4, "work-result.concentrate"_w},
    {"water", OutputKind::Quantity, "L", 3, "work-result.water"_w},
    {"share", OutputKind::Quantity, "%", 3, "work-result.injected-share"_w},
    {"other-reading", OutputKind::Quantity, "L", 4, "work-result.other-reading"_w},
    {"running-time", OutputKind::Quantity, "min", 1, "work-result.running-time"_w},
    {"measured-ratio", OutputKind::Number, "", 2, "work-result.measured-ratio"_w},
};
const extern Calculation kInjector;

Result<Answer> run_injector(const Inputs& in) {
  const auto meaning =
      in["meaning"].text == "on-final-volume" ? InjectorRatio::OnFinalVolume : InjectorRatio::ToPartsOfWater;
  const auto other =
      meaning == InjectorRatio::OnFinalVolume ? InjectorRatio::ToPartsOfWater : InjectorRatio::OnFinalVolume;
  const double ratio = in["ratio"].number;
  const Volume all = in.get<Volume>("volume");
  Answer answer(kInjector);
  TRY_ASSIGN(const Volume concentrate, concentrate_for(all, ratio, meaning));
  TRY_ASSIGN(const Volume otherwise, concentrate_for(all, ratio, other));
  TRY_ASSIGN(const Share& share, injected_share(ratio, meaning));
  answer.quantity("concentrate", concentrate);
  answer.quantity("water", all - concentrate);
  answer.quantity("share", share);
  answer.quantity("other-reading", otherwise);
  const std::string liters = figure(all.liters()) + " L";
  answer.step("water", "final − concentrate",
              liters + " − " + figure(concentrate.liters()) + " L = " + figure((all - concentrate).liters()) + " L");
  answer.step("share", "concentrate / final",
              figure(concentrate.liters()) + " L / " + liters + " = " + figure(share.percent()) + " %");
  answer.step("other-reading",
              other == InjectorRatio::OnFinalVolume ? "concentrate = final / R" : "concentrate = final / (R + 1)",
              liters + ", R = " + figure(ratio) + " → " + figure(otherwise.liters()) + " L");
  answer.step("concentrate",
              meaning == InjectorRatio::OnFinalVolume ? "concentrate = final / R" : "concentrate = final / (R + 1)",
              liters + ", R = " + figure(ratio) + " → " + figure(concentrate.liters()) + " L");
  if (const auto flow = in.maybe<Flow>("flow")) {
    TRY_ASSIGN(const Duration time, running_time(all, *flow));
    answer.quantity("running-time", time);
    answer.step("running-time", "t = V / Q",
                liters + " / " + figure(flow->liters_per_minute()) + " L/min = " + figure(time.minutes()) + " min");
  }
  const auto drawn = in.maybe<Volume>("drawn"), came_out = in.maybe<Volume>("came-out");
  if (drawn && came_out) {
    TRY_ASSIGN(const double measured, measured_ratio(*drawn, *came_out, meaning));
    answer.number("measured-ratio", measured);
    answer.step("measured-ratio", "R",
                figure(came_out->liters()) + " L / " + figure(drawn->liters()) + " L → 1:" + figure(measured));
  }
  answer.note(meaning == InjectorRatio::OnFinalVolume ? "injector.on-final-volume"_w : "injector.to-parts"_w);
  answer.caution("injector.backflow"_w);
  return answer;
}

const Calculation kInjector{
    "injector",
    "mix",
    "work.injector"_w,
    kInjectorInputs,
    kInjectorOutputs,
    "University of Massachusetts extension (on final volume); greenhouse suppliers' charts (parts to parts)",
    "--ratio 100 --meaning on-final-volume --volume \"100 L\" --flow \"20 L/min\"",
    run_injector};

const Calculation kAll[] = {kConvert, kRatio, kRecipe, kInjector};

}  // namespace

std::span<const Calculation> work_mix() { return kAll; }

}  // namespace steep
