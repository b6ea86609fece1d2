#include "trade/tea_time.h"

namespace steep {

Result<TeaTime> tea_time(Moment met_water, Moment finish) {
  if (finish < met_water) return refuse(Trouble::BadInput, "tea-time.finish-before-water"_w, {}, "finish");
  const std::int64_t minutes = (finish - met_water + kMinute - 1) / kMinute;
  const Liquid liquid = minutes > kExtractMinutes        ? Liquid::Tea
                        : minutes >= kExtractWarnMinutes ? Liquid::ExtractSoonTea
                                                         : Liquid::Extract;
  return TeaTime{minutes, liquid};
}

}  // namespace steep
