// Every calculation's answer to a fixed list of inputs, as text with all digits:   steepbook_same LINES.txt
//
// Built natively and as WebAssembly; tests/same/compare.py holds the two outputs side by side. Each
// calculation answers its own example, so a new one is in by itself; LINES.txt has more, a line each as
// behind `work`, also such that must be refused in the same words.
#include <cstdio>
#include <fstream>
#include <string>

#include "base/words.h"
#include "trade/calculation.h"

namespace {

using namespace steep;

void print_answer(const Calculation& calculation, const std::string& line) {
  const Words words(Language::English);
  std::printf("> %s %s\n", std::string(calculation.name).c_str(), line.c_str());
  const auto inputs = read_inputs(calculation, read_command_line(line), {});
  const auto answer = inputs ? calculation.run(*inputs) : Result<Answer>(tl::unexpected<Problem>(inputs.error()));
  if (!answer) {
    std::printf("refused: %s\n", words(answer.error()).c_str());
    return;
  }
  for (const ResultValue& result : answer->results) {
    if (result.text.empty())
      std::printf("%s = %.17g\n", result.name.c_str(), result.number);
    else
      std::printf("%s = '%s'\n", result.name.c_str(), result.text.c_str());
  }
  for (const Remark& note : answer->notes) std::printf("note: %s\n", words(note.word, note.values).c_str());
  for (const Step& step : answer->steps) std::printf("step: %s = %s\n", step.formula.c_str(), step.numbers.c_str());
}

}  // namespace

int main(int count, char** given) {
  for (const Calculation* calculation : all_calculations())
    print_answer(*calculation, std::string(calculation->example));
  if (count < 2) return 0;
  std::ifstream lines(given[1]);
  if (!lines) {
    std::fprintf(stderr, "%s cannot be read\n", given[1]);
    return 2;
  }
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || line.front() == '#') continue;
    const std::size_t blank = line.find(' ');
    const Calculation* calculation = find_calculation(line.substr(0, blank));
    if (!calculation) {
      std::fprintf(stderr, "'%s' names no calculation\n", line.c_str());
      return 2;
    }
    print_answer(*calculation, blank == std::string::npos ? std::string() : line.substr(blank + 1));
  }
  return 0;
}
