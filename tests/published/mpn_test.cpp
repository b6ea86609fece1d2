// The most probable number: every row of the manual's tables at hand, and designs of other kinds.
#include "trade/mpn.h"

#include <string>
#include <string_view>
#include <vector>

#include "base/text.h"
#include "published/published.h"

using namespace steep;
using namespace steep::published;

namespace {

std::vector<double> numbers(std::string_view text, char between) {
  std::vector<double> list;
  for (const std::string_view one : split(text, between))
    list.push_back(std::strtod(std::string(one).c_str(), nullptr));
  return list;
}

std::vector<TubeRow> rows_of(const std::vector<double>& grew, const std::vector<double>& tubes,
                             const std::vector<double>& amounts) {
  std::vector<TubeRow> rows;
  for (std::size_t i = 0; i < grew.size(); ++i)
    rows.push_back({amounts[i], static_cast<int>(tubes[i]), static_cast<int>(grew[i])});
  return rows;
}

/// '3-1-0' with so many tubes each of 0.1, 0.01 and 0.001 g.
std::vector<TubeRow> rows_of(std::string_view grew, double tubes) {
  return rows_of(numbers(grew, '-'), {tubes, tubes, tubes}, {0.1, 0.01, 0.001});
}

/// Ours rounded as the manual prints it: two digits.
bool prints_as(double ours, double printed) {
  return std::fabs(ours - printed) <= 0.5 * std::pow(10, std::floor(std::log10(ours)) - 1) * (1 + 1e-9);
}

/// '0', 'inf', '--' or nothing = this end is open.
bool same_end(const std::optional<double>& ours, const std::string& theirs) {
  const bool open = theirs.empty() || theirs == "0" || theirs == "inf" || theirs == "--";
  if (open || !ours) return open && !ours;
  return agrees(*ours, theirs);
}

constexpr const char* kScipy =
    "likelihood, evaluated independently with scipy 1.10.1 and the R package MPN's functions";

TEST_CASE("mpn: three tubes, all rows of the manual") {
  constexpr const char* kBam = "FDA BAM appendix 2 (October 2010), table 1 (from memory; four points read)";
  for (const auto& row : table("mpn_3tube")) {
    REQUIRE(row.size() == 12);
    const Mpn ours = *most_probable_number(rows_of(row[0], 3));
    const Mpn normal = *most_probable_number(rows_of(row[0], 3), 0.95, MpnInterval::Normal);
    if (row[2].starts_with('<')) {
      PUBLISHED("mpn", kBam, row[0],
                ours.kind == Mpn::Kind::NoneGrew && prints_as(ours.number, std::strtod(row[2].c_str() + 1, nullptr)));
    } else if (row[2].starts_with('>')) {
      PUBLISHED("mpn", kBam, row[0],
                ours.kind == Mpn::Kind::AllGrew && prints_as(ours.number, std::strtod(row[2].c_str() + 1, nullptr)));
    } else {
      PUBLISHED("mpn", kBam, row[0], prints_as(ours.number, std::strtod(row[2].c_str(), nullptr)));
      PUBLISHED("mpn", kScipy, row[0], agrees(ours.number, row[1]));
    }
    PUBLISHED("mpn", kScipy, row[0] + ", likelihood ratio, low", same_end(ours.low, row[5]));
    PUBLISHED("mpn", kScipy, row[0] + ", likelihood ratio, high", same_end(ours.high, row[6]));
    PUBLISHED("mpn", kScipy, row[0] + ", normal, low", same_end(normal.low, row[9]));
    PUBLISHED("mpn", kScipy, row[0] + ", normal, high", same_end(normal.high, row[10]));
    PUBLISHED("mpn", kScipy, row[0] + ", rarity", agrees(ours.rarity, row[11]));
    if (row[8].empty()) continue;
    // Printed to 0.1, and solved to some parts in ten thousand.
    const auto agrees_with_ridout = [](const std::optional<double>& end, const std::string& printed) {
      if (!end) return printed == "0" || printed == "inf";
      const double theirs = std::strtod(printed.c_str(), nullptr);
      return within(*end, theirs, 0.06 + 5e-4 * theirs);
    };
    PUBLISHED("mpn", "Ridout 1994, table 1 (read in the tests of the R package MPN)", row[0],
              agrees_with_ridout(ours.low, row[7]) && agrees_with_ridout(ours.high, row[8]));
  }
}

TEST_CASE("mpn: the manual's own intervals are of another kind, but not far") {
  // Built from rounded concentrations so that improbable outcomes are left out: their ends lie within a factor of 1.6.
  constexpr const char* kBam = "FDA BAM appendix 2 (October 2010), table 1: intervals (from memory)";
  for (const auto& row : table("mpn_3tube")) {
    const Mpn ours = *most_probable_number(rows_of(row[0], 3));
    const auto not_far = [](const std::optional<double>& end, const std::string& printed) {
      if (!end || printed == "--") return !end && printed == "--";
      const double ratio = std::strtod(printed.c_str(), nullptr) / *end;
      return ratio < 1.6 && ratio > 1 / 1.6;
    };
    PUBLISHED("mpn", kBam, row[0], not_far(ours.low, row[3]) && not_far(ours.high, row[4]));
  }
}

TEST_CASE("mpn: five tubes, all rows of the manual at hand") {
  constexpr const char* kBam = "FDA BAM appendix 2 (October 2010), table 2 (from memory; five points read)";
  for (const auto& row : table("mpn_5tube")) {
    REQUIRE(row.size() == 6);
    const Mpn ours = *most_probable_number(rows_of(row[0], 5));
    PUBLISHED("mpn", kBam, row[0], prints_as(ours.number, std::strtod(row[2].c_str(), nullptr)));
    PUBLISHED("mpn", kScipy, row[0], agrees(ours.number, row[1]));
    PUBLISHED("mpn", kScipy, row[0] + ", low", same_end(ours.low, row[3]));
    PUBLISHED("mpn", kScipy, row[0] + ", high", same_end(ours.high, row[4]));
    PUBLISHED("mpn", kScipy, row[0] + ", rarity", agrees(ours.rarity, row[5]));
  }
  constexpr const char* kEnds = "FDA BAM appendix 2, quoted in the manual page of the R package MPN";
  const Mpn none = *most_probable_number(rows_of("0-0-0", 5)), all = *most_probable_number(rows_of("5-5-5", 5));
  PUBLISHED("mpn", kEnds, "0-0-0: < 1.8", none.kind == Mpn::Kind::NoneGrew && prints_as(none.number, 1.8));
  PUBLISHED("mpn", kEnds, "5-5-5: > 1600", all.kind == Mpn::Kind::AllGrew && prints_as(all.number, 1600));
  // 5-1-0 of 10, 1 and 0.1 mL: the answer is per mL, water is reported per 100 mL.
  const Mpn water = *most_probable_number(rows_of({5, 1, 0}, {5, 5, 5}, {10, 1, 0.1}));
  PUBLISHED("mpn", "Health Canada, appendix D01", "5-1-0 of 10, 1, 0.1 mL: 33 in 100 mL",
            prints_as(100 * water.number, 33));
}

TEST_CASE("mpn: designs of any kind") {
  for (const auto& row : table("mpn_general")) {
    REQUIRE(row.size() == 12);
    const auto rows = rows_of(numbers(row[1], ' '), numbers(row[2], ' '), numbers(row[3], ' '));
    const Mpn ours = *most_probable_number(rows), normal = *most_probable_number(rows, 0.95, MpnInterval::Normal);
    const std::string source = row[0] + " (read in the tests of the R package MPN)", name = row[1] + " of " + row[2];
    PUBLISHED("mpn", source, name,
              agrees(ours.number, row[5]) || near(ours.number, std::strtod(row[5].c_str(), nullptr), 3e-7));
    PUBLISHED("mpn", kScipy, name, agrees(ours.number, row[4]));
    PUBLISHED("mpn", kScipy, name + ", likelihood ratio", same_end(ours.low, row[6]) && same_end(ours.high, row[7]));
    PUBLISHED("mpn", kScipy, name + ", normal", same_end(normal.low, row[8]) && same_end(normal.high, row[9]));
    PUBLISHED("mpn", kScipy, name + ", rarity", agrees(ours.rarity, row[10]));
    if (!row[11].empty()) PUBLISHED("mpn", source, name + ", rarity", agrees(ours.rarity, row[11]));
  }
}

TEST_CASE("mpn: Jarvis' examples by the normal approximation") {
  // The paper worked its intervals from rounded standard deviations: within 5 %. Numbers and rarities to the digits printed.
  constexpr const char* kJarvis =
      "Jarvis et al. 2010, J. Appl. Microbiol. 109, 1660: tables 1 and 2 (read in the manual page of the R package "
      "MPN)";
  struct Row {
    std::vector<double> grew, tubes, amounts;
    const char *mpn, *rarity;
    double low, high;
  };
  const std::vector<Row> examples{
      {{3, 1, 1}, {3, 3, 3}, {1, 0.1, 0.01}, "7.5", ".209", 1.9, 30},
      {{2, 2, 0}, {3, 3, 3}, {1, 0.1, 0.01}, "2.1", ".069", 0.71, 6.2},
      {{20, 14, 3}, {20, 20, 20}, {1, 0.1, 0.01}, "13", ".794", 7.6, 21},
      {{50, 35, 7}, {50, 50, 50}, {2, 0.2, 0.02}, "6.3", ".806", 4.5, 8.7},
      {{0, 5, 1, 0}, {1, 10, 10, 10}, {10, 1, 0.1, 0.01}, "0.33", ".004", 0.14, 0.74},
      {{1, 5, 3, 1, 1}, {1, 5, 5, 5, 5}, {5, 1, 0.5, 0.1, 0.05}, "2.7", ".512", 1.3, 5.5},
  };
  for (const Row& row : examples) {
    const Mpn ours = *most_probable_number(rows_of(row.grew, row.tubes, row.amounts), 0.95, MpnInterval::Normal);
    const std::string name = std::string("MPN ") + row.mpn;
    PUBLISHED("mpn", kJarvis, name, agrees(ours.number, row.mpn));
    PUBLISHED("mpn", kJarvis, name + ", rarity", agrees(ours.rarity, row.rarity));
    PUBLISHED("mpn", kJarvis, name + ", interval", near(*ours.low, row.low, 0.05) && near(*ours.high, row.high, 0.05));
  }
  // With none or all grown the paper puts the whole 2.5 % on the one end that there is; we put 5 % there.
  const Mpn none = *most_probable_number(rows_of({0, 0, 0}, {3, 3, 3}, {1, 0.1, 0.01}), 0.975);
  const Mpn all = *most_probable_number(rows_of({3, 3, 3}, {3, 3, 3}, {1, 0.1, 0.01}), 0.975);
  PUBLISHED("mpn", kJarvis, "none grew: 0 to 1.1", !none.low && agrees(*none.high, "1.1"));
  PUBLISHED("mpn", kJarvis, "all grew: 36 and more", !all.high && agrees(*all.low, "36"));
}

}  // namespace
