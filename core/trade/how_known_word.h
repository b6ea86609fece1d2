#pragma once
/// How a dose's volume became known, as the word that answers and tables carry.

#include <string_view>

#include "trade/share.h"

namespace steep {

constexpr std::string_view how_known_word(HowKnown how) {
  switch (how) {
    case HowKnown::Measured: return "measured";
    case HowKnown::Share: return "share-of-load";
    case HowKnown::Rate: return "rate-times-area";
    case HowKnown::NotKnown: return "not-known";
    case HowKnown::Skipped: return "skipped";
  }
  return {};
}

}  // namespace steep
