#pragma once
/// Where a passphrase is typed: hidden unless its person wants to see it.

#include <string>

#include "base/words.h"
#include "handover/lock.h"
#include "look/layout.h"

namespace steep {

struct PassphraseInput {
  Passphrase passphrase;
  bool shown = false;
  bool operator==(const PassphraseInput&) const = default;
};

/// The field and, below it, whether it is shown. `label`: whose passphrase it is.
void passphrase_field(Pen& pen, const Words& words, std::string_view label, PassphraseInput& input);

}  // namespace steep
