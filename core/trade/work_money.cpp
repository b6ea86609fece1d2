// The calculation 'cost'.
#include <cmath>

#include "base/text.h"
#include "trade/cost.h"
#include "trade/work_lists.h"

namespace steep {
namespace {

constexpr InputSpec kLineColumns[] = {
    plain_input("name", InputKind::Text, "work-input.cost-name"_w),
    plain_input("price", InputKind::Number, "work-input.cost-price"_w),
    plain_input("used", InputKind::Number, "work-input.cost-used"_w).or_standard("1"),
    plain_input("bought", InputKind::Number, "work-input.cost-bought"_w).or_standard("1"),
};
constexpr InputSpec kInputs[] = {
    row_input("line", kLineColumns, "work-input.cost-line"_w).repeated().optional(),
    quantity_input("time", Dimension::Time, "work-input.labor-time"_w).or_standard("0 h"),
    plain_input("wage", InputKind::Number, "work-input.wage"_w).or_standard("0"),
    quantity_input("tea", Dimension::Volume, "work-input.tea-made"_w).optional(),
    quantity_input("spray", Dimension::Volume, "work-input.spray-made"_w).optional(),
    plain_input("beds", InputKind::Whole, "work-input.beds-sprayed"_w).optional(),
    quantity_input("tax", Dimension::Share, "work-input.tax"_w).or_standard("0 %"),
    word_input("tax-rounding", "on-the-whole|on-each-line", "work-input.tax-rounding"_w).or_standard("on-the-whole"),
};
constexpr OutputSpec kOutputs[] = {
    {"materials", OutputKind::Number, "", 2, "work-result.cost-materials"_w},
    {"labor", OutputKind::Number, "", 2, "work-result.cost-labor"_w},
    {"net", OutputKind::Number, "", 2, "work-result.cost-net"_w},
    {"tax", OutputKind::Number, "", 2, "work-result.cost-tax"_w},
    {"total", OutputKind::Number, "", 2, "work-result.cost-total"_w},
    {"per-gallon-tea", OutputKind::Number, "", 4, "work-result.cost-per-tea"_w},
    {"per-gallon-spray", OutputKind::Number, "", 4, "work-result.cost-per-spray"_w},
    {"per-bed", OutputKind::Number, "", 4, "work-result.cost-per-bed"_w},
};
const extern Calculation kCost;

Result<Money> money(double amount, std::string place) {
  if (!(std::abs(amount) <= 1e12)) return refuse(Trouble::OutOfRange, "cost.too-much"_w, {}, std::move(place));
  return Money{std::llround(amount * 100)};
}
double units(Money m) { return static_cast<double>(m.cents) / 100; }

void explain(Answer& answer, const Inputs& in, Money materials, Money labor, const Bill& sum) {
  const auto text = [](Money m) { return fixed(units(m), 2); };
  answer.step("materials", "Σ", text(materials));
  answer.step("labor", "wage · time",
              in["wage"].text + " × " + figure(in.get<Duration>("time").hours()) + " h = " + text(labor));
  answer.step("net", "materials + labor", text(materials) + " + " + text(labor) + " = " + text(sum.net));
  answer.step("tax", "net · tax",
              text(sum.net) + " × " + figure(in.get<Share>("tax").percent()) + " % = " + text(sum.tax));
  answer.step("total", "net + tax", text(sum.net) + " + " + text(sum.tax) + " = " + text(sum.gross));
}

Result<Answer> run_cost(const Inputs& in) {
  Answer answer(kCost);
  std::vector<Money> lines;
  Money materials;
  for (const Value* row : in.all("line")) {
    TRY_ASSIGN(const Money price, money(row->columns[1]->number, "line"));
    TRY_ASSIGN(const Money cost, cost_of_use(price, row->columns[2]->number, row->columns[3]->number));
    materials = materials + cost;
    lines.push_back(cost);
    answer.named_step("materials", row->columns[0]->text,
                      fixed(units(price), 2) + " × " + figure(row->columns[2]->number) + " / " +
                          figure(row->columns[3]->number) + " = " + fixed(units(cost), 2));
  }
  TRY_ASSIGN(const Money wage, money(in["wage"].number, "wage"));
  TRY_ASSIGN(const Money labor, cost_of_time(wage, in.get<Duration>("time")));
  lines.push_back(labor);
  const auto rounding = in["tax-rounding"].text == "on-the-whole" ? TaxRounding::OnTheWhole : TaxRounding::OnEachLine;
  TRY_ASSIGN(const Bill& sum, bill(lines, in.get<Share>("tax"), rounding));
  explain(answer, in, materials, labor, sum);
  answer.number("materials", units(materials));
  answer.number("labor", units(labor));
  answer.number("net", units(sum.net));
  answer.number("tax", units(sum.tax));
  answer.number("total", units(sum.gross));
  const auto per = [&](std::string_view name, double amount, const std::string& unit) {
    answer.step(
        name, "total / amount",
        fixed(units(sum.gross), 2) + " / " + figure(amount) + unit + " = " + fixed(units(sum.gross) / amount, 4));
  };
  if (const auto tea = in.maybe<Volume>("tea")) {
    TRY_ASSIGN(const double cents, cents_per_gallon(sum.gross, *tea));
    answer.number("per-gallon-tea", cents / 100);
    per("per-gallon-tea", tea->gallons(), " gal");
  }
  if (const auto spray = in.maybe<Volume>("spray")) {
    TRY_ASSIGN(const double cents, cents_per_gallon(sum.gross, *spray));
    answer.number("per-gallon-spray", cents / 100);
    per("per-gallon-spray", spray->gallons(), " gal");
  }
  if (const Value* beds = in.find("beds"); beds && beds->number > 0) {
    answer.number("per-bed", units(sum.gross) / beds->number);
    per("per-bed", beds->number, "");
  }
  answer.note("cost.per-gallon-of"_w);
  answer.note(rounding == TaxRounding::OnTheWhole ? "cost.rounded-whole"_w : "cost.rounded-lines"_w);
  return answer;
}

const Calculation kCost{
    "cost",
    "money",
    "work.cost"_w,
    kInputs,
    kOutputs,
    "arithmetic, whole cents",
    "--line \"compost; 42.00; 22; 300\" --line \"kelp; 18.50; 0.5; 16\" --time \"90 min\" --wage 18 --tea \"110 gal\" "
    "--spray \"250 gal\" --beds 44",
    run_cost};
const Calculation kAll[] = {kCost};

}  // namespace

std::span<const Calculation> work_money() { return kAll; }

}  // namespace steep
