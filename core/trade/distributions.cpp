#include "trade/distributions.h"

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <cstdio>
#include <cstdlib>

// The fence: with exceptions off Boost calls these. No input reaches them, since arguments are checked
// before each call and the policy below answers by value; should one do so, the program ends.
namespace boost {
void throw_exception(const std::exception&) {
  std::fputs("A mathematical library was called with arguments it refuses.\n", stderr);
  std::abort();
}
void throw_exception(const std::exception& problem, const boost::source_location&) { throw_exception(problem); }
}  // namespace boost

namespace steep {
namespace {

namespace policies = boost::math::policies;
using Quiet =
    policies::policy<policies::domain_error<policies::errno_on_error>, policies::pole_error<policies::errno_on_error>,
                     policies::overflow_error<policies::errno_on_error>,
                     policies::underflow_error<policies::ignore_error>, policies::denorm_error<policies::ignore_error>,
                     policies::evaluation_error<policies::errno_on_error>,
                     policies::rounding_error<policies::errno_on_error>,
                     policies::indeterminate_result_error<policies::errno_on_error>, policies::promote_double<false>>;
using StudentsT = boost::math::students_t_distribution<double, Quiet>;
using FisherF = boost::math::fisher_f_distribution<double, Quiet>;
using ChiSquared = boost::math::chi_squared_distribution<double, Quiet>;
using Normal = boost::math::normal_distribution<double, Quiet>;

bool is_share(double p) { return p > 0 && p < 1; }
bool is_positive(double x) { return std::isfinite(x) && x > 0; }
auto refused() { return refuse(Trouble::OutOfRange, "statistics.arguments"_w); }

Result<double> finite(double value) {
  if (!std::isfinite(value)) return refused();
  return value;
}

}  // namespace

Result<double> t_quantile(double p, double degrees_of_freedom) {
  if (!is_share(p) || !is_positive(degrees_of_freedom)) return refused();
  return finite(quantile(StudentsT(degrees_of_freedom), p));
}

Result<double> t_two_sided(double t, double degrees_of_freedom) {
  if (!std::isfinite(t) || !is_positive(degrees_of_freedom)) return refused();
  return finite(2 * cdf(complement(StudentsT(degrees_of_freedom), std::abs(t))));
}

Result<double> f_upper_tail(double f, double df1, double df2) {
  if (!(f >= 0) || !std::isfinite(f) || !is_positive(df1) || !is_positive(df2)) return refused();
  return finite(cdf(complement(FisherF(df1, df2), f)));
}

Result<double> chi_squared_quantile(double p, double degrees_of_freedom) {
  if (!is_share(p) || !is_positive(degrees_of_freedom)) return refused();
  return finite(quantile(ChiSquared(degrees_of_freedom), p));
}

Result<double> chi_squared_upper_tail(double x, double degrees_of_freedom) {
  if (!(x >= 0) || !std::isfinite(x) || !is_positive(degrees_of_freedom)) return refused();
  return finite(cdf(complement(ChiSquared(degrees_of_freedom), x)));
}

Result<double> normal_quantile(double p) {
  if (!is_share(p)) return refused();
  return finite(quantile(Normal(), p));
}

}  // namespace steep
