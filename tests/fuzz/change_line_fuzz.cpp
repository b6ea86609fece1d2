// The reader of change lines. For any bytes: no crash, a decision within the limits, and what was read can be
// written and read again with the same meaning.
#include <cstdlib>
#include <string_view>

#include "book/change.h"
#include "fuzz.h"

using namespace steep;

namespace {

int run(const std::uint8_t* data, std::size_t size) {
  const std::string_view line(reinterpret_cast<const char*>(data), size);
  const auto change = read_change(line);
  if (!change) {
    if (change.error().word.key.empty()) std::abort();
    return 0;
  }
  if (size > kMaxLine || change->fields.size() > kMaxFields || change->seen.size() > kMaxSeen) std::abort();
  const std::string again = write_change(*change);
  if (again.size() > kMaxLine) return 0;  // Control characters are written longer than some writer's short escapes.
  const auto back = read_change(again);
  const bool same = back && back->fields == change->fields && back->seen == change->seen &&
                    back->tips == change->tips && back->why == change->why && back->act == change->act &&
                    back->must == change->must && back->part == change->part && back->t == change->t &&
                    back->wall == change->wall;
  if (!same) std::abort();
  return 0;
}

std::vector<std::string> seeds() {
  Change c;
  c.lane.bytes = {1, 2, 3};
  c.record.bytes = {4, 5, 6};
  c.seq = c.act = 1;
  c.part = Part{};
  c.t = c.wall = 1'778'796'340'123;
  c.kind = "vessel";
  c.act_ends = true;
  c.fields = {text_field_value("name", "Barrel ñ 🌱"), quantity_value("volume.nominal", "2 1/2 gal"),
              not_taken("volume.working"), number_value("outlets", "4")};
  std::vector<std::string> lines = {write_change(c)};
  c.seq = 812;
  c.act = 810;
  c.act_ends = false;
  c.part.reset();
  c.zone_minutes = -240;
  c.why = "measured \"twice\"\n";
  c.seen = {{c.lane, 5, 0x9f3a01c2}, {c.record, 9, 1}};
  c.tips = c.seen;
  c.must = true;
  c.fields = {list_value("people", {"a", "b", ""}), date_value("date", {2026, 5, 14}),
              yes_no_value("rinsed", false),        instant_value("at", {{1'778'796'252'000}, -240}),
              reference_value("of", c.record),      word_value("how.way", "turn")};
  lines.push_back(write_change(c));
  std::string newer = lines.back();
  newer.insert(newer.size() - 1, R"(,"x":["a",1],"y":-3,"zz":"\ud83c\udf31\/")");
  lines.push_back(std::move(newer));
  return lines;
}

const FuzzEntry entry{{"change-line", run, seeds}};

}  // namespace
