// Runs every check against the outside world and prints how many were made, by topic, with sources.
#define DOCTEST_CONFIG_IMPLEMENT
#include "published/published.h"

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <set>

namespace steep::published {
namespace {

struct Topic {
  long checks = 0;
  long failed = 0;
  std::set<std::string, std::less<>> sources;
};

std::map<std::string, Topic, std::less<>>& topics() {
  static std::map<std::string, Topic, std::less<>> all;
  return all;
}

std::vector<std::string> fields(const std::string& line) {
  std::vector<std::string> out(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"') {
      if (quoted && i + 1 < line.size() && line[i + 1] == '"')
        out.back() += line[++i];
      else
        quoted = !quoted;
    } else if (c == ',' && !quoted) {
      out.emplace_back();
    } else if (c != '\r') {
      out.back() += c;
    }
  }
  return out;
}

void print_report() {
  long checks = 0, failed = 0;
  std::printf("\n");
  for (const auto& [name, topic] : topics()) {
    std::printf("%-16s %5ld checks%s\n", name.c_str(), topic.checks,
                topic.failed ? (", " + std::to_string(topic.failed) + " FAILED").c_str() : "");
    for (const std::string& source : topic.sources) std::printf("%18s%s\n", "", source.c_str());
    checks += topic.checks;
    failed += topic.failed;
  }
  std::printf("published checks: %ld\n", checks);
  if (failed != 0) std::printf("published checks failed: %ld\n", failed);
}

}  // namespace

bool count(std::string_view topic, std::string_view source, std::string_view, bool passed) {
  Topic& entry = topics()[std::string(topic)];
  ++entry.checks;
  if (!passed) ++entry.failed;
  entry.sources.emplace(source);
  return passed;
}

double half_last_digit(std::string_view printed) {
  const std::size_t exponent = printed.find_first_of("eE");
  const double scale = exponent == std::string_view::npos
                           ? 1.0
                           : std::pow(10.0, std::atoi(std::string(printed.substr(exponent + 1)).c_str()));
  const std::string_view digits = printed.substr(0, exponent);
  const std::size_t point = digits.find('.');
  const int places = point == std::string_view::npos ? 0 : static_cast<int>(digits.size() - point - 1);
  return 0.5 * std::pow(10.0, -places) * scale;
}

bool agrees(double ours, std::string_view printed) {
  const double theirs = std::strtod(std::string(printed).c_str(), nullptr);
  return within(ours, theirs, half_last_digit(printed) * (1 + 1e-9));
}

std::vector<std::vector<std::string>> table(std::string_view name) {
  const std::string path = std::string(STEEPBOOK_SOURCE_DIR "/tests/published/tables/") + std::string(name) + ".csv";
  std::ifstream file(path);
  REQUIRE_MESSAGE(file.good(), path, " cannot be read");
  std::vector<std::vector<std::string>> rows;
  bool header = true;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#') continue;
    if (!header) rows.push_back(fields(line));
    header = false;
  }
  REQUIRE_MESSAGE(!rows.empty(), path, " has no rows");
  return rows;
}

}  // namespace steep::published

int main(int argc, char** argv) {
  doctest::Context context(argc, argv);
  const int result = context.run();
  if (!context.shouldExit()) steep::published::print_report();
  return result;
}
