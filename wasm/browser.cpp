#include "wasm/browser.h"

#include <emscripten.h>

#include <cstdlib>

// Write `const char* name` with the space where it stands: this Emscripten reads the text itself.
// What follows is JavaScript, which the layout of C++ would break.
// clang-format off
EM_JS(char*, js_fact, (int what), { return Module.host.giveText(Module.host.fact(what)); })
EM_JS(int, js_offset, (void), { return -new Date().getTimezoneOffset(); })
EM_JS(double, js_now, (void), { return Date.now(); })
EM_JS(double, js_steady, (void), { return performance.now(); })
EM_JS(void, js_random, (void* into, int size), {
  for (let done = 0; done < size; done += 65536) {
    crypto.getRandomValues(HEAPU8.subarray(into + done, into + Math.min(size, done + 65536)));
  }
})
EM_JS(char*, js_setting, (const char* key, int size), {
  return Module.host.giveText(Module.host.setting(Module.host.text(key, size)));
})
EM_JS(int, js_set_setting, (const char* key, int key_size, const char* value, int size), {
  return Module.host.setSetting(Module.host.text(key, key_size), Module.host.text(value, size)) ? 1 : 0;
})
EM_JS(void, js_store_write, (double ticket, double expected, double page_count, const char* sum, int sum_size,
                             double schema, const void* pages, int page_number, const void* segments, int segment_number), {
  Module.host.storeWrite({ticket: ticket, expected: expected, pages: page_count, sum: Module.host.text(sum, sum_size),
                          schema: schema}, pages, page_number, segments, segment_number);
})
EM_JS(void, js_store_reopen, (void), { Module.host.storeReopen(); })
EM_JS(void, js_store_copy_aside, (int number), { Module.host.storeCopyAside(number); })
EM_JS(void, js_store_ask_lasting, (void), { Module.host.askLasting(); })
EM_JS(void, js_photo_keep, (const char* name, int name_size, const char* bytes, int size), {
  Module.host.photoKeep(Module.host.text(name, name_size), HEAPU8.slice(bytes, bytes + size));
})
EM_JS(void, js_photo_read, (int number, const char* name, int name_size), {
  Module.host.photoRead(number, Module.host.text(name, name_size));
})
EM_JS(void, js_photo_decode, (int number, const char* bytes, int size, int side), {
  Module.host.photoDecode(number, HEAPU8.slice(bytes, bytes + size), side);
})
EM_JS(void, js_wake, (double in_ms), { Module.host.wakeIn(in_ms); })
EM_JS(void, js_announce, (const char* text, int size, int urgent), {
  Module.host.announce(Module.host.text(text, size), urgent !== 0);
})
EM_JS(void, js_mirror, (const void* items, int size), { Module.host.mirror(items, size); })
EM_JS(void, js_colors, (const char* words, int size, int dark), {
  Module.host.setColors(Module.host.text(words, size).split(" "), dark !== 0);
})
EM_JS(void, js_language, (const char* code, int code_size, const char* title, int size), {
  Module.host.setLanguage(Module.host.text(code, code_size), Module.host.text(title, size));
})
EM_JS(int, js_can, (int verb), { return Module.host.can(verb) ? 1 : 0; })
EM_JS(int, js_can_share, (const char* name, int name_size, const char* type, int size), {
  return Module.host.canShare(Module.host.text(name, name_size), Module.host.text(type, size)) ? 1 : 0;
})
EM_JS(int, js_can_download, (void), { return Module.host.canDownload() ? 1 : 0; })
EM_JS(void, js_give_file, (int way, int number, const char* name, int name_size, const char* type, int type_size,
                           const char* bytes, int size), {
  Module.host.giveFile(way, number, Module.host.text(name, name_size), Module.host.text(type, type_size),
                       HEAPU8.slice(bytes, bytes + size));
})
EM_JS(void, js_copy_text, (const char* text, int size), { Module.host.copyText(Module.host.text(text, size)); })
EM_JS(void, js_keep_awake, (int on), { Module.host.keepAwake(on !== 0); })
EM_JS(void, js_use_here, (void), { Module.host.useHere(); })
EM_JS(void, js_use_newer, (void), { Module.host.useNewer(); })
EM_JS(void, js_get_book_out, (void), { Module.host.getBookOut(); })
// clang-format on

namespace steep::browser {
namespace {

int length(std::string_view text) { return static_cast<int>(text.size()); }

/// Text that JavaScript put into memory of ours.
std::string taken(char* text) {
  std::string copy = text;
  std::free(text);
  return copy;
}

constexpr int kSave = 0, kShare = 1, kPrint = 2;

void give_file(int way, int number, std::string_view name, std::string_view type, std::string_view bytes) {
  js_give_file(way, number, name.data(), length(name), type.data(), length(type), bytes.data(), length(bytes));
}

}  // namespace

std::string fact(Fact what) { return taken(js_fact(static_cast<int>(what))); }
double now_ms() { return js_now(); }
double steady_ms() { return js_steady(); }
int offset_minutes() { return js_offset(); }
void random(std::span<std::uint8_t> bytes) { js_random(bytes.data(), static_cast<int>(bytes.size())); }

std::string setting(std::string_view key) { return taken(js_setting(key.data(), length(key))); }
bool set_setting(std::string_view key, std::string_view value) {
  return js_set_setting(key.data(), length(key), value.data(), length(value)) != 0;
}

void store_write(std::uint64_t ticket, std::uint64_t expected, std::uint32_t page_count, std::uint64_t sum,
                 std::uint32_t schema, std::span<const std::uint32_t> pages, std::span<const std::uint32_t> segments) {
  std::string hex(16, '0');
  for (int i = 15; i >= 0; --i, sum >>= 4) hex[static_cast<std::size_t>(i)] = "0123456789abcdef"[sum & 15];
  js_store_write(static_cast<double>(ticket), static_cast<double>(expected), page_count, hex.data(), length(hex),
                 schema, pages.data(), static_cast<int>(pages.size()), segments.data(),
                 static_cast<int>(segments.size()));
}
void store_reopen() { js_store_reopen(); }
void store_copy_aside(int number) { js_store_copy_aside(number); }
void store_ask_lasting() { js_store_ask_lasting(); }

void photo_keep(std::string_view name, std::string_view bytes) {
  js_photo_keep(name.data(), length(name), bytes.data(), length(bytes));
}
void photo_read(int number, std::string_view name) { js_photo_read(number, name.data(), length(name)); }

void photo_decode(int number, std::string_view bytes, int side) {
  js_photo_decode(number, bytes.data(), length(bytes), side);
}

void wake(double in_ms) { js_wake(in_ms); }
void announce(std::string_view text, bool urgent) { js_announce(text.data(), length(text), urgent ? 1 : 0); }
void mirror(std::span<const std::uint8_t> items) { js_mirror(items.data(), static_cast<int>(items.size())); }
void colors(std::string_view ground, std::string_view surface, std::string_view ink, bool dark) {
  const std::string words = std::string(ground) + ' ' + std::string(surface) + ' ' + std::string(ink);
  js_colors(words.data(), length(words), dark ? 1 : 0);
}
void language(std::string_view code, std::string_view title) {
  js_language(code.data(), length(code), title.data(), length(title));
}

bool can(int verb) { return js_can(verb) != 0; }
bool can_share(std::string_view name, std::string_view type) {
  return js_can_share(name.data(), length(name), type.data(), length(type)) != 0;
}
bool can_download() { return js_can_download() != 0; }
void save_file(int number, std::string_view name, std::string_view type, std::string_view bytes) {
  give_file(kSave, number, name, type, bytes);
}
void share_file(int number, std::string_view name, std::string_view type, std::string_view bytes) {
  give_file(kShare, number, name, type, bytes);
}
void print_page(int number, std::string_view name, std::string_view bytes) {
  give_file(kPrint, number, name, "text/html", bytes);
}
void copy_text(std::string_view text) { js_copy_text(text.data(), length(text)); }
void keep_awake(bool on) { js_keep_awake(on ? 1 : 0); }
void use_here() { js_use_here(); }
void use_newer() { js_use_newer(); }
void get_book_out() { js_get_book_out(); }

}  // namespace steep::browser
