// How fast files are merged.   steepbook_bench_merge [FOLDER [CHANGES]]
//
// A million changes (or so many), a day's file into books of several sizes, fifty thousand field edits. Each
// part that has to have its own memory runs as a process of its own. Prints one JSON object a line.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <vector>

#include "bench/merge/clock.h"
#include "bench/merge/plain.h"
#include "bench/merge/workload.h"
#include "book/book_file.h"
#include "handover/give.h"
#include "handover/take.h"
#include "tests/fake_platform.h"

namespace {

namespace fs = std::filesystem;
using namespace steep;
using namespace steep::bench;
using Figures = std::map<std::string, double>;
using Outcome = Book::TakeIn::Outcome;

constexpr std::int64_t kDayLines = 200, kDays = 9;
#ifdef __EMSCRIPTEN__
constexpr bool kWriteAhead = false;  // As on the page: no shared memory, no log.
std::FILE* begin_program(const char*) { return nullptr; }
int end_program(std::FILE*) { return -1; }
#else
constexpr bool kWriteAhead = true;
std::FILE* begin_program(const char* command) { return popen(command, "r"); }
int end_program(std::FILE* out) { return pclose(out); }
#endif

std::string read_file(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}
void write_file(const fs::path& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }
void remove_book(const fs::path& path) {
  for (const char* end : {"", "-wal", "-shm", "-journal"}) fs::remove(path.string() + end);
}

/// Exits when it fails: there is nothing to measure then.
template <class T>
T must(Result<T> result) {
  if (!result) {
    std::fprintf(stderr, "bench: %s at %s\n", std::string(result.error().word.key).c_str(),
                 result.error().place.c_str());
    std::exit(1);
  }
  return std::move(*result);
}

struct Copy {
  /// Chance is the same in every process: `skipped` bytes of it keep the ids of two copies apart.
  explicit Copy(const fs::path& path, std::size_t skipped)
      : platform(path.string(), skipped),
        book(must(Book::open({path.string(), "", kWriteAhead}, needs_of(platform)))) {}
  struct Platform : test::FakePlatform {
    Platform(std::string place, std::size_t skipped) : FakePlatform(std::move(place)) {
      std::vector<std::uint8_t> bytes(skipped);
      random(bytes);
    }
    /// Goes on, so that steps end.
    Stamp now() override { return {clock + static_cast<std::int64_t>(begun.spent().wall_s * 1000), offset_minutes}; }
    Clock begun;
  } platform;
  Book book;
};

constexpr std::int64_t kStepMs = 8;  // As in a frame of a phone.

struct Taken {
  Spent plan, apply;
  double longest_ms = 0;  ///< Of the processor, in one step that was asked for kStepMs.
  Outcome outcome;
};

void step(TakeJob& job, Taken& taken) {
  const Clock clock;
  job.step(kStepMs);
  taken.longest_ms = std::max(taken.longest_ms, clock.spent().cpu_s * 1000);
}

Taken take(Book& book, std::string bytes) {
  Taken taken;
  const Clock reading;
  TakeJob job(book, {"measured.steepbook", std::move(bytes), ""});
  while (job.stage() == TakeJob::Stage::Reading) step(job, taken);
  taken.plan = reading.spent();
  const Clock applying;
  job.apply({});
  while (job.stage() == TakeJob::Stage::Applying) step(job, taken);
  taken.apply = applying.spent();
  if (job.stage() == TakeJob::Stage::Failed) must<int>(tl::unexpected<Problem>(job.problem()));
  taken.outcome = job.outcome();
  return taken;
}

Spent verify(const std::string& bytes) {
  const Clock clock;
  auto reader = must(FileReader::open(bytes));
  while (must(reader.next())) {}
  return clock.spent();
}

void figure(const char* name, double value) { std::printf("%s %.6f\n", name, value); }
void figure(const std::string& name, Spent spent) {
  figure((name + "_wall").c_str(), spent.wall_s);
  figure((name + "_cpu").c_str(), spent.cpu_s);
}

// ---- Parts, each a process -----------------------------------------------------------------------

/// The file of so many changes by four copies that meet every thousand lines, and the days of a fifth.
int make(const fs::path& folder, std::int64_t changes) {
  Workload work(5);
  while (work.changes() + 4000 <= changes) {
    for (int copy = 0; copy < 4; ++copy) work.write(copy, 1000);
    work.meet();
  }
  write_file(folder / "whole.steepbook", work.whole_file());
  figure("changes", static_cast<double>(work.changes()));
  for (std::int64_t day = 0; day < kDays; ++day) {
    work.write_day(4, kDayLines);
    write_file(folder / ("day-" + std::to_string(day) + ".steepbook"), work.later_file(4, day * kDayLines + 1));
  }
  return 0;
}

int merge(const fs::path& folder) {
  const fs::path path = folder / "merged.sqlite";
  remove_book(path);
  std::string bytes = read_file(folder / "whole.steepbook");
  figure("file_mb", static_cast<double>(bytes.size()) / 1e6);
  figure("verify", verify(bytes));
  const double before = memory_mb("VmHWM");
  {
    Copy copy(path, 2);
    const Taken taken = take(copy.book, std::move(bytes));
    figure("plan", taken.plan);
    figure("apply", taken.apply);
    figure("added", static_cast<double>(taken.outcome.added));
    figure("differing", static_cast<double>(taken.outcome.differing));
    figure("longest_ms", taken.longest_ms);
    figure("memory_mb", memory_mb("VmHWM") - before);
    const Taken again = take(copy.book, read_file(folder / "whole.steepbook"));
    figure("again", again.plan + again.apply);
  }
  figure("store_mb", static_cast<double>(fs::file_size(path)) / 1e6);
  return 0;
}

int plain(const fs::path& folder) {
  const fs::path copy = folder / "plain.sqlite";
  remove_book(copy);
  for (const auto& [name, journal] : {std::pair{"plain", "WAL"}, std::pair{"in_place", "DELETE"}}) {
    figure(name, plain_inserts((folder / "merged.sqlite").string(), copy.string(), journal));
    remove_book(copy);
  }
  return 0;
}

double median(std::vector<double> all) {
  std::sort(all.begin(), all.end());
  return all[all.size() / 2];
}

int days(const fs::path& folder) {
  const fs::path path = folder / "merged.sqlite", safe = folder / "copy.sqlite";
  std::vector<double> wall, cpu, plan;
  Copy copy(path, 3);
  for (std::int64_t day = 0; day < kDays; ++day) {
    const Taken taken = take(copy.book, read_file(folder / ("day-" + std::to_string(day) + ".steepbook")));
    if (taken.outcome.added != kDayLines) return 1;
    wall.push_back(taken.apply.wall_s);
    cpu.push_back(taken.apply.cpu_s);
    plan.push_back(taken.plan.wall_s);
  }
  figure("apply", {median(wall), median(cpu)});
  figure("plan_wall", median(plan));
  remove_book(safe);
  const Clock clock;
  if (!copy_book(path.string(), safe.string())) return 1;
  figure("copy", clock.spent());
  remove_book(safe);
  return 0;
}

/// 20,000 entries; two copies make 20,000 saves each, 50,000 field edits, not seeing the other; one takes the
/// other's lines. Median of three.
int fields(const fs::path& folder) {
  Workload work(2);
  work.create(0, 20'000);
  work.meet();
  work.correct(0, 20'000);
  work.correct(1, 20'000);
  const std::string mine = work.whole_file(1), theirs = work.later_file(1, 1);
  const fs::path path = folder / "fields.sqlite";
  std::vector<double> wall, cpu;
  for (int i = 0; i < 3; ++i) {
    remove_book(path);
    Copy copy(path, 2);
    take(copy.book, mine);
    const Taken taken = take(copy.book, theirs);
    if (taken.outcome.added != 20'000) return 1;
    wall.push_back(taken.plan.wall_s + taken.apply.wall_s);
    cpu.push_back(taken.plan.cpu_s + taken.apply.cpu_s);
    if (i > 0) continue;
    figure("differing", static_cast<double>(taken.outcome.differing));
    figure("longest_ms", taken.longest_ms);
    figure("delta_mb", static_cast<double>(theirs.size()) / 1e6);
    figure("whole_mb", static_cast<double>(work.whole_file().size()) / 1e6);
  }
  figure("merge", {median(wall), median(cpu)});
  figure("store_mb", static_cast<double>(fs::file_size(path)) / 1e6);
  remove_book(path);
  return 0;
}

Figures run(const std::string& program, const std::string& what, const fs::path& folder, std::int64_t count = 0) {
  Figures figures;
  const std::string command = "'" + program + "' --" + what + " '" + folder.string() + "' " + std::to_string(count);
  std::FILE* out = begin_program(command.c_str());  // None in Node.js: only --fields is run there.
  if (!out) return figures;
  char name[32];
  double value = 0;
  while (std::fscanf(out, "%31s %lf", name, &value) == 2) {
    figures[name] = value;
    std::fprintf(stderr, "%s %s %.3f\n", what.c_str(), name, value);
  }
  if (end_program(out) != 0) figures.clear();
  return figures;
}

// ---- The table -----------------------------------------------------------------------------------

void print(const std::string& name, double value, const char* unit, const std::string& against, double ratio) {
  std::printf("{\"name\": \"%s\", \"value\": %.4g, \"unit\": \"%s\", \"against\": \"%s\", \"ratio\": %.4g}\n",
              name.c_str(), value, unit, against.c_str(), ratio);
  std::fflush(stdout);
}

std::string counted(double changes) {
  const std::string digits = std::to_string(static_cast<std::int64_t>(changes));
  std::string text;
  for (std::size_t i = 0; i < digits.size(); ++i) {
    if (i > 0 && (digits.size() - i) % 3 == 0) text += ',';
    text += digits[i];
  }
  return text + " changes";
}

void print_merge(const Figures& made, const Figures& merged, const Figures& plain) {
  const std::string what = counted(made.at("changes")) + ", ";
  const double measure = plain.at("plain_wall"), plan = merged.at("plan_wall"), apply = merged.at("apply_wall");
  print(what + "plain inserts of the same rows", measure, "s", "itself", 1);
  for (const auto& [name, value] : {std::pair{"verify", merged.at("verify_wall")}, std::pair{"verify and plan", plan},
                                    std::pair{"apply", apply}, std::pair{"verify, plan and apply", plan + apply}})
    print(what + name, value, "s", "plain inserts, their time to this", measure / value);
  print(what + "apply", apply, "s", "plain inserts in place, their time to this", plain.at("in_place_wall") / apply);
  print(what + "the same file again", merged.at("again_wall"), "s", "the first time",
        merged.at("again_wall") / (plan + apply));
  print(what + "memory", merged.at("memory_mb"), "MB", "64 MB over the cache of 64", merged.at("memory_mb") / 128);
  print(what + "file", merged.at("file_mb"), "MB", "store", merged.at("file_mb") / merged.at("store_mb"));
}

}  // namespace

int main(int count, char** arguments) {
  const std::string first = count > 1 ? arguments[1] : "";
  if (first.starts_with("-")) {  // No folder is called so.
    const fs::path folder = count > 2 ? arguments[2] : "";
    if (folder.empty()) return 2;
    if (first == "--make") return make(folder, count > 3 ? std::atoll(arguments[3]) : 10'000);
    if (first == "--merge") return merge(folder);
    if (first == "--plain") return plain(folder);
    if (first == "--days") return days(folder);
    if (first == "--fields") return fields(folder);
    return 2;
  }
  const fs::path folder = count > 1 ? arguments[1] : "build/bench";
  const std::int64_t most = count > 2 ? std::atoll(arguments[2]) : 1'000'000;
  std::map<std::int64_t, Figures> day_of;
  for (const std::int64_t changes : {most / 100, most / 10, most}) {
    const fs::path place = folder / ("merge-" + std::to_string(changes));
    fs::create_directories(place);
    const Figures made = run(arguments[0], "make", place, changes), merged = run(arguments[0], "merge", place);
    if (made.empty() || merged.empty()) return 1;
    if (changes == most) {
      const Figures measure = run(arguments[0], "plain", place);
      if (measure.empty()) return 1;
      print_merge(made, merged, measure);
    }
    print(counted(merged.at("added")) + ", longest step", merged.at("longest_ms"), "ms", "asked for 8 ms",
          merged.at("longest_ms") / kStepMs);
    Figures& day = day_of[changes] = run(arguments[0], "days", place);
    if (day.empty()) return 1;
    const std::string name = "a day's file into " + counted(static_cast<double>(changes));
    print(name + ", apply", day["apply_wall"] * 1000, "ms", "the smallest book",
          day["apply_wall"] / day_of[most / 100]["apply_wall"]);
    print(name + ", safety copy", day["copy_wall"] * 1000, "ms", "apply", day["copy_wall"] / day["apply_wall"]);
  }
  return 0;
}
