#pragma once
/// The item tree as bytes for the page's mirror (wasm/page/js/mirror.js): what was sent before is
/// named by its id alone.
///
///   u32 count, then per item in reading order
///     u32 id, u8 sent (0 = as before, 1 = follows)
///     if sent: u8 role, u8 field kind, u8 flags (1 enabled, 2 on, 4 drawn), f32 left, top, right, bottom,
///              f32 font_px, u32 max_length, then name, value, error: each u32 bytes + UTF-8
/// All little-endian, unaligned. An id that comes a second time is sent whole each time.

#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

#include "look/item_tree.h"

namespace steep {

class MirrorWriter {
 public:
  /// The bytes for these items; valid until the next call.
  const std::vector<std::uint8_t>& write(const std::vector<Item>& items);
  /// The page forgot everything: send all again.
  void forget() { sent_.clear(); }

 private:
  std::unordered_map<std::uint32_t, Item> sent_, sending_;
  std::vector<std::uint8_t> bytes_;
};

}  // namespace steep
