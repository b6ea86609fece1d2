#pragma once
/// Where a result can go without being typed again: into a record, or into the form of the work it is for.

#include <string>
#include <vector>

#include "book/enter.h"
#include "look/icons.h"
#include "screens/page.h"
#include "trade/calculation.h"

namespace steep {

struct WorkUse {
  std::string id, text;  ///< Of its button: 'Start a pass with this'.
  std::string title;     ///< Of the list, where there are several to choose from.
  Icon icon = Icon::None;
  struct Option {
    std::string first, second;
    Ask ask;
  };
  std::vector<Option> options;  ///< One is done at once; of several a person chooses.
};

/// The one it was most likely asked for first; copying last.
Result<std::vector<WorkUse>> work_uses(const Surroundings& around, const Calculation& calculation, const Inputs& inputs,
                                       const Answer& answer);

/// The fields of a calibration record by 'calibrate'. `pressure` in normal form, may be empty.
EnterFields calibration_fields(const Surroundings& around, const Id& rig, const Inputs& inputs, const Answer& answer,
                               std::string_view pressure);

/// One result of an answer; nullptr when it has none of that name.
const ResultValue* find_result(const Answer& answer, std::string_view name);
/// The whole answer as lines of text: title, results, notes.
std::string answer_text(const Calculation& calculation, const Answer& answer, const Surroundings& around);

}  // namespace steep
