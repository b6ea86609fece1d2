#include "wasm/mirror.h"

#include <cstring>

namespace steep {
namespace {

template <class Number>
void put(std::vector<std::uint8_t>& bytes, Number value) {
  std::uint8_t raw[sizeof value];
  std::memcpy(raw, &value, sizeof value);  // WebAssembly is little-endian.
  bytes.insert(bytes.end(), raw, raw + sizeof value);
}

void put_text(std::vector<std::uint8_t>& bytes, const std::string& text) {
  put(bytes, static_cast<std::uint32_t>(text.size()));
  bytes.insert(bytes.end(), text.begin(), text.end());
}

void put_item(std::vector<std::uint8_t>& bytes, const Item& item) {
  put(bytes, static_cast<std::uint8_t>(item.role));
  put(bytes,
      item.role == Role::FilePick ? static_cast<std::uint8_t>(item.picks) : static_cast<std::uint8_t>(item.kind));
  put(bytes, static_cast<std::uint8_t>((item.enabled ? 1 : 0) | (item.on ? 2 : 0) | (item.drawn ? 4 : 0)));
  for (const float edge : {item.rect.left, item.rect.top, item.rect.right, item.rect.bottom}) put(bytes, edge);
  put(bytes, item.font_px);
  put(bytes, static_cast<std::uint32_t>(item.max_length));
  put_text(bytes, item.name);
  put_text(bytes, item.value);
  put_text(bytes, item.error);
}

}  // namespace

const std::vector<std::uint8_t>& MirrorWriter::write(const std::vector<Item>& items) {
  bytes_.clear();
  sending_.clear();
  put(bytes_, static_cast<std::uint32_t>(items.size()));
  for (const Item& item : items) {
    const auto before = sent_.find(item.id);
    const bool first = sending_.emplace(item.id, item).second;
    const bool same = first && before != sent_.end() && before->second == item;
    put(bytes_, item.id);
    put(bytes_, static_cast<std::uint8_t>(same ? 0 : 1));
    if (!same) put_item(bytes_, item);
  }
  sent_.swap(sending_);
  return bytes_;
}

}  // namespace steep
