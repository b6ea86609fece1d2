#include "look/motion.h"

#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

float eased(double share) {
  const double rest = 1 - share;
  return static_cast<float>(1 - rest * rest * rest);
}

float place(const Glide& glide, double now, double seconds) {
  if (seconds <= 0 || now - glide.start >= seconds) return glide.to;
  return glide.from + (glide.to - glide.from) * eased((now - glide.start) / seconds);
}

float moving_known(Glide& glide, float target, double seconds) {
  State& s = state();
  if (s.look.reduce_motion) {
    glide = {target, target, s.now};
    return target;
  }
  if (glide.to != target) glide = {place(glide, s.now, seconds), target, s.now};
  const float shown = place(glide, s.now, seconds);
  if (shown != glide.to) want_frame();
  return shown;
}

}  // namespace

float moving(std::uint32_t id, float target, double seconds) { return moving_from(id, target, target, seconds); }

float moving_from(std::uint32_t id, float from, float target, double seconds) {
  State& s = state();
  const auto [it, is_new] = s.glide.try_emplace(id, Glide{from, from, s.now});
  return moving_known(it->second, target, seconds);
}

}  // namespace steep
