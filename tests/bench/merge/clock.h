#pragma once
/// Time on the wall, and what the processor spent on this process.

#include <chrono>
#include <ctime>
#include <fstream>
#include <string>

namespace steep::bench {

struct Spent {
  double wall_s = 0, cpu_s = 0;
  Spent& operator+=(const Spent& other) {
    wall_s += other.wall_s;
    cpu_s += other.cpu_s;
    return *this;
  }
  friend Spent operator+(Spent a, const Spent& b) { return a += b; }
};

class Clock {
 public:
  Clock() : wall_(std::chrono::steady_clock::now()), cpu_(std::clock()) {}
  Spent spent() const {
    return {std::chrono::duration<double>(std::chrono::steady_clock::now() - wall_).count(),
            static_cast<double>(std::clock() - cpu_) / CLOCKS_PER_SEC};
  }

 private:
  std::chrono::steady_clock::time_point wall_;
  std::clock_t cpu_;
};

/// 'VmRSS', 'VmHWM' of this process in MB; 0 where the system doesn't say it this way.
inline double memory_mb(const std::string& what) {
  std::ifstream file("/proc/self/status");
  for (std::string word; file >> word;) {
    if (word != what + ":") continue;
    double kib = 0;
    file >> kib;
    return kib * 1024 / 1e6;
  }
  return 0;
}

}  // namespace steep::bench
