#include "handover/safety_copy.h"

#include "base/text.h"

namespace steep {

bool safety_copy_due(Platform& platform, const TakePlan& plan) {
  if (plan.fresh == 0) return false;
  if (plan.large()) return true;
  const auto last = parse_int(platform.setting(kSafetyCopySetting));
  const Moment now = platform.now().at;
  // A clock that was set back says nothing of the day.
  return !last || *last > now.ms || now.ms - *last >= kDay;
}

void note_safety_copy(Platform& platform) {
  // Without it the next file gets one too: no harm.
  (void)platform.set_setting(kSafetyCopySetting, std::to_string(platform.now().at.ms));
}

}  // namespace steep
