#pragma once
/// Checks against the outside world, counted and printed by topic with their sources.
///
///   TEST_CASE("units: factors") {
///     for (const Row& row : kRows) {
///       PUBLISHED("units", "NIST SP 811 App. B", row.name, near(ours(row), row.expected, 1e-12));
///     }
///   }
///
/// One PUBLISHED is one checked row. It fails the test case when the condition is false, counts
/// under its topic, and its source is listed once. At the end the program prints a line a topic and
/// `published checks: N`. Sources: author or body, title, edition or year, table or page; a value
/// typed from memory says 'from memory'; a rule of thumb says 'common practice, no source'.

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <string_view>
#include <vector>

namespace steep::published {

/// Counts one check. `what` names the row; returns `passed`.
bool count(std::string_view topic, std::string_view source, std::string_view what, bool passed);

/// |ours − theirs| ≤ absolute.
inline bool within(double ours, double theirs, double absolute) {
  return std::isfinite(ours) && std::fabs(ours - theirs) <= absolute;
}
/// |ours − theirs| ≤ relative × |theirs|.
inline bool near(double ours, double theirs, double relative) {
  return within(ours, theirs, relative * std::fabs(theirs));
}
/// Half of the last printed digit of `printed` ('3.785' gives 0.0005, '24000' gives 0.5).
double half_last_digit(std::string_view printed);
/// Our value rounds to the printed one: within half its last digit.
bool agrees(double ours, std::string_view printed);

/// Rows of tests/published/tables/<name>.csv for long tables: fields by comma, with "" quoting;
/// lines that begin with '#' and the header line are left out.
std::vector<std::vector<std::string>> table(std::string_view name);

}  // namespace steep::published

/// Topic, source, name of the row, condition.
#define PUBLISHED(topic, source, what, ...)                                                                         \
  do {                                                                                                              \
    const bool published_passed = static_cast<bool>(__VA_ARGS__);                                                   \
    CHECK_MESSAGE(::steep::published::count(topic, source, what, published_passed), topic, ": ", std::string(what), \
                  " [", source, "] ", #__VA_ARGS__);                                                                \
  } while (false)

/// The same for two numbers: says both when they differ by more than `tolerance` (absolute).
#define PUBLISHED_NUMBER(topic, source, what, ours, theirs, tolerance)                                                \
  do {                                                                                                                \
    const double published_ours = (ours), published_theirs = (theirs);                                                \
    CHECK_MESSAGE(::steep::published::count(topic, source, what,                                                      \
                                            ::steep::published::within(published_ours, published_theirs, tolerance)), \
                  topic, ": ", std::string(what), " [", source, "] ours ", published_ours, ", published ",            \
                  published_theirs);                                                                                  \
  } while (false)
