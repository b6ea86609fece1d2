#include "screens/record_line.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "book/dose_volumes.h"
#include "book/totals.h"
#include "book/work.h"
#include "screens/amounts.h"
#include "screens/fact_text.h"

namespace steep {
namespace {

/// The fields that tell most of a kind, in the order of reading.
struct Telling {
  std::string_view kind;
  std::string_view keys[2];
};
constexpr Telling kTelling[] = {
    {"harvest", {"planting", "amount"}}, {"wash", {"of", "how.method"}}, {"brew", {"vessel", "fill"}},
    {"lot", {"material", "quantity"}},   {"hold", {"bed", "why"}},       {"plan", {"what", "at"}},
    {"rig", {"kind", "tank.volume"}},    {"vessel", {"volume.working"}}, {"material", {"kind", "maker"}},
    {"recipe", {"reference"}},           {"water-source", {"kind"}},
};

Result<std::string> pass_line(const Surroundings& around, const Id& pass) {
  TRY_ASSIGN(const std::vector<Dose>& doses, doses_of_pass(around.book, pass));
  std::vector<Id> sprayed;
  std::set<Id> beds;
  for (const Dose& dose : doses) {
    if (dose.is_skipped()) continue;
    sprayed.push_back(dose.id);
    beds.insert(dose.bed);
  }
  if (beds.empty()) return std::string();
  TRY_ASSIGN(const auto& volumes, dose_volumes(around.book, sprayed));
  VolumeSum sum;
  for (const auto& [dose, volume] : volumes) sum.add(volume);
  std::string line = around.words.count("merge.beds"_w, static_cast<long long>(beds.size()));
  if (sum.not_known == 0) {
    const auto tea = sum.tea_not_known == 0 ? std::optional(sum.tea) : std::nullopt;
    line += ", " + spray_shown(sum.spray, tea, sum.estimated > 0, around.units, around.words).text();
  }
  return line;
}

}  // namespace

Result<std::string> record_line(const Surroundings& around, const Record& record) {
  if (record.kind == "pass") return pass_line(around, record.id);
  const auto* telling = std::find_if(std::begin(kTelling), std::end(kTelling),
                                     [&](const Telling& one) { return one.kind == record.kind; });
  std::vector<std::string> pieces;
  if (telling != std::end(kTelling))
    for (const std::string_view key : telling->keys)
      if (const FieldValue* field = key.empty() ? nullptr : record.field(key);
          field && field->type != FieldType::NotTaken)
        pieces.push_back(value_text(*field, around));
  return join(pieces, ", ");
}

}  // namespace steep
