#include "trade/mpn.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "trade/distributions.h"

namespace steep {
namespace {

Result<void> check(std::span<const TubeRow> rows, double confidence) {
  if (rows.empty()) return refuse(Trouble::BadInput, "mpn.no-rows"_w, {}, "dilution");
  if (rows.size() > 20) return refuse(Trouble::OutOfRange, "mpn.rows"_w, {}, "dilution");
  if (!(confidence >= 0.5 && confidence <= 0.9999))
    return refuse(Trouble::OutOfRange, "count.confidence"_w, {}, "confidence");
  for (const TubeRow& row : rows) {
    if (!(row.amount >= 1e-15 && row.amount <= 1e6)) return refuse(Trouble::OutOfRange, "mpn.amount"_w, {}, "dilution");
    if (row.tubes < 1 || row.tubes > 10000) return refuse(Trouble::OutOfRange, "mpn.tubes"_w, {}, "dilution");
    if (row.grew < 0 || row.grew > row.tubes) return refuse(Trouble::BadInput, "mpn.grew"_w, {}, "dilution");
  }
  return {};
}

/// Where a function of m that falls through 0 does so. Halves on a logarithmic scale, down to neighboring doubles.
template <class Falling>
double crossing(Falling falling, double guess) {
  double below = guess, above = guess;
  while (falling(below) < 0) below /= 4;
  while (falling(above) > 0) above *= 4;
  for (int i = 0; i < 200; ++i) {
    const double middle = std::sqrt(below) * std::sqrt(above);
    if (middle <= below || middle >= above) break;
    (falling(middle) > 0 ? below : above) = middle;
  }
  return std::sqrt(below) * std::sqrt(above);
}

double in_all(std::span<const TubeRow> rows) {
  double sum = 0;
  for (const TubeRow& row : rows) sum += row.tubes * row.amount;
  return sum;
}

/// For at least one tube that grew and one that did not.
double likeliest(std::span<const TubeRow> rows) {
  return crossing(
      [&](double m) {
        // a [p / (1 − e^(−ma)) − n] = a [p / (e^(ma) − 1) − (n − p)]: the second form loses no digits to n.
        double sum = 0;
        for (const TubeRow& row : rows)
          sum += row.amount * (row.grew / std::expm1(m * row.amount) - (row.tubes - row.grew));
        return sum;
      },
      1 / in_all(rows));
}

/// ln L without the binomial coefficients, which do not depend on m.
double log_likelihood(std::span<const TubeRow> rows, double m) {
  double sum = 0;
  for (const TubeRow& row : rows) {
    if (row.grew > 0) sum += row.grew * std::log(-std::expm1(-m * row.amount));
    sum -= (row.tubes - row.grew) * m * row.amount;
  }
  return sum;
}

/// ln of (tubes over grew) · q^grew · (1 − q)^(tubes − grew), with q the chance that a tube grows.
double log_chance(int tubes, int grew, double dose) {
  double sum =
      std::lgamma(tubes + 1.0) - std::lgamma(grew + 1.0) - std::lgamma(tubes - grew + 1.0) - (tubes - grew) * dose;
  if (grew > 0) sum += grew * std::log(-std::expm1(-dose));
  return sum;
}

double rarity_index(std::span<const TubeRow> rows, double m) {
  double sum = 0;
  for (const TubeRow& row : rows) {
    const double dose = m * row.amount;
    const int usual = std::min(row.tubes, static_cast<int>(std::floor((row.tubes + 1) * -std::expm1(-dose))));
    sum += log_chance(row.tubes, row.grew, dose) - log_chance(row.tubes, usual, dose);
  }
  return std::exp(std::min(sum, 0.0));
}

/// The rows with one tube of the smallest amount turned: the outcome next to 'none' or 'all'.
std::vector<TubeRow> with_one_turned(std::span<const TubeRow> rows, int by) {
  std::vector<TubeRow> turned(rows.begin(), rows.end());
  const auto smallest = std::min_element(turned.begin(), turned.end(),
                                         [](const TubeRow& a, const TubeRow& b) { return a.amount < b.amount; });
  smallest->grew += by;
  return turned;
}

Result<Mpn> at_the_end(std::span<const TubeRow> rows, bool all_grew, double confidence) {
  const std::vector<TubeRow> next = with_one_turned(rows, all_grew ? -1 : 1);
  const bool single_tube = rows.size() == 1 && rows[0].tubes == 1;
  if (single_tube) return refuse(Trouble::OutOfRange, "mpn.one-tube"_w, {}, "dilution");
  Mpn mpn;
  mpn.kind = all_grew ? Mpn::Kind::AllGrew : Mpn::Kind::NoneGrew;
  mpn.number = likeliest(next);
  const double least = std::log(1 - confidence);
  if (all_grew)
    mpn.low = crossing([&](double m) { return least - log_likelihood(rows, m); }, mpn.number);
  else
    mpn.high = -least / in_all(rows);
  return mpn;
}

}  // namespace

Result<Mpn> most_probable_number(std::span<const TubeRow> rows, double confidence, MpnInterval interval) {
  TRY(check(rows, confidence));
  const bool any_grew = std::any_of(rows.begin(), rows.end(), [](const TubeRow& r) { return r.grew > 0; });
  const bool all_grew = std::all_of(rows.begin(), rows.end(), [](const TubeRow& r) { return r.grew == r.tubes; });
  if (!any_grew || all_grew) return at_the_end(rows, all_grew, confidence);

  Mpn mpn;
  const double m = mpn.number = likeliest(rows);
  mpn.rarity = rarity_index(rows, m);
  if (interval == MpnInterval::Normal) {
    double information = 0;
    for (const TubeRow& row : rows) {
      const double grown = -std::expm1(-m * row.amount);
      information += row.grew * row.amount * row.amount * std::exp(-m * row.amount) / (grown * grown);
    }
    TRY_ASSIGN(const double z, normal_quantile((1 + confidence) / 2));
    const double reach = std::exp(z / (m * std::sqrt(information)));
    mpn.low = m / reach;
    mpn.high = m * reach;
    return mpn;
  }
  TRY_ASSIGN(const double fall, chi_squared_quantile(confidence, 1));
  const double least = log_likelihood(rows, m) - fall / 2;
  // Below m the likelihood rises, above it falls: each side is turned so that it falls through 0.
  mpn.low = crossing([&](double x) { return x < m ? least - log_likelihood(rows, x) : -1.0; }, m);
  mpn.high = crossing([&](double x) { return x > m ? log_likelihood(rows, x) - least : 1.0; }, m);
  return mpn;
}

}  // namespace steep
