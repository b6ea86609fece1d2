#include "trade/work_times.h"

namespace steep {

Result<Moment> moment_of(const Zone& zone, const Value& value, std::string_view place) {
  const auto moments = zone.instants(value.time);
  if (moments.empty()) return refuse(Trouble::Ask, "hold.no-such-time"_w, {value.text}, std::string(place));
  if (moments.size() > 1) return refuse(Trouble::Ask, "work.time-came-twice"_w, {value.text}, std::string(place));
  return moments.front();
}

std::string local_text(const Zone& zone, Moment at) {
  std::string text = stamp_text(zone.stamp(at)).substr(0, 16);
  text[10] = ' ';
  return text;
}

}  // namespace steep
