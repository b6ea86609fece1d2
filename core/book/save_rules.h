#pragma once
/// What may be written: the rules that hold for every kind alike, and the part a record lies in.

#include <span>
#include <vector>

#include "book/store.h"

namespace steep {

struct PlannedSave {
  const Save* save = nullptr;
  Part part;
  std::vector<FieldValue> fields;  ///< Those of the save, and of its groups what this program doesn't know.
  std::vector<ChangeRef> seen;     ///< Each once.
};

/// Refuses all or nothing; see Book::write.
Result<std::vector<PlannedSave>> plan_saves(Store& store, std::span<const Save> saves);

}  // namespace steep
