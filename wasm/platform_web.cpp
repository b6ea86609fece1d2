#include "wasm/platform_web.h"

#include <zlib.h>

#include "wasm/browser.h"
#include "wasm/page_vfs.h"

namespace steep {
namespace {

constexpr std::string_view kFileEnding = ".steepbook";
constexpr std::size_t kMostText = 200u << 20;

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

/// Share sheets take well-known types only. The handover file has a second form for them: the same
/// lines without gzip, as plain text. It is known by content, so the name is for people alone.
File as_plain_text(File file) {
  if (!ends_with(file.name, kFileEnding)) return file;
  if (auto lines = gunzipped(file.bytes, kMostText)) file.bytes = std::move(*lines);
  file.name += ".txt";
  file.type = "text/plain";
  return file;
}

}  // namespace

std::optional<std::string> gunzipped(std::string_view bytes, std::size_t most) {
  z_stream stream{};
  if (inflateInit2(&stream, 16 + MAX_WBITS) != Z_OK) return std::nullopt;
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  stream.avail_in = static_cast<uInt>(bytes.size());
  std::string lines;
  char room[32768];
  int code = Z_OK;
  while (code == Z_OK && lines.size() <= most) {
    stream.next_out = reinterpret_cast<Bytef*>(room);
    stream.avail_out = sizeof room;
    code = inflate(&stream, Z_NO_FLUSH);
    lines.append(room, sizeof room - stream.avail_out);
  }
  inflateEnd(&stream);
  if (code != Z_STREAM_END || lines.size() > most) return std::nullopt;
  return lines;
}

PlatformWeb::PlatformWeb()
    : store_(
          *this, [] { return Moment{static_cast<std::int64_t>(browser::now_ms())}; },
          [] { return Moment{static_cast<std::int64_t>(browser::steady_ms())}; }) {
  serve_pages(
      &store_, [](std::span<std::uint8_t> bytes) { browser::random(bytes); },
      [] { return Moment{static_cast<std::int64_t>(browser::now_ms())}; });
}
PlatformWeb::~PlatformWeb() { serve_pages(nullptr, {}, {}); }

bool PlatformWeb::can(Verb verb) const { return browser::can(static_cast<int>(verb)); }
Stamp PlatformWeb::now() { return {Moment{static_cast<std::int64_t>(browser::now_ms())}, browser::offset_minutes()}; }
void PlatformWeb::random(std::span<std::uint8_t> bytes) { browser::random(bytes); }

// ---- Storage ----

void PlatformWeb::keep() {
  // With nothing new to write it is a person's 'Try again'.
  if (store_.health().state == SaveState::NotSaved)
    store_.try_again();
  else
    store_.keep();
  browser::wake(0);  // The saved mark follows.
}
void PlatformWeb::ask_lasting() { browser::store_ask_lasting(); }
void PlatformWeb::use_here() { browser::use_here(); }

void PlatformWeb::write(const PageWrite& write, const PageStore&) {
  browser::store_write(write.ticket, write.expected, write.page_count, write.sum, write.schema, write.pages,
                       write.segments);
}
void PlatformWeb::reopen() { browser::store_reopen(); }
void PlatformWeb::make_safety_copy(std::function<void(Result<void>)> then) {
  if (const auto may = store_.ready_to_copy(); !may) {
    answers_.push_back([then = std::move(then), may] { then(may); });
    return browser::wake(0);
  }
  browser::store_copy_aside(await(std::move(then)));
}

std::string PlatformWeb::setting(std::string_view key) { return browser::setting(key); }
Result<void> PlatformWeb::set_setting(std::string_view key, std::string_view value) {
  if (browser::set_setting(key, value)) return {};
  return refuse(Trouble::System, "page.setting"_w, {}, std::string(key));
}

BookPlace PlatformWeb::book_place() { return {kPageFile, kPageVfs, false}; }

// ---- Files ----

void PlatformWeb::pick_file(std::function<void(Result<File>)> then) {
  picking_ = std::move(then);
  if (!chosen_) return;  // The real input over the button has it already, else it comes.
  Result<File> file = std::move(*chosen_);
  chosen_.reset();
  file_chosen(std::move(file));
}

void PlatformWeb::file_chosen(Result<File> file) {
  if (!picking_) {
    chosen_ = std::move(file);
    return;
  }
  answers_.push_back([then = std::move(picking_), file = std::move(file)]() mutable { then(std::move(file)); });
  picking_ = nullptr;
  browser::wake(0);
}

int PlatformWeb::await(std::function<void(Result<void>)> then) {
  waiting_[++numbers_] = std::move(then);
  return numbers_;
}

void PlatformWeb::save_file(File file, std::function<void(Result<void>)> then) {
  if (!browser::can_download()) return share_file(std::move(file), std::move(then));
  browser::save_file(await(std::move(then)), file.name, file.type, file.bytes);
}

void PlatformWeb::share_file(File file, std::function<void(Result<void>)> then) {
  if (!browser::can_share(file.name, file.type)) file = as_plain_text(std::move(file));
  browser::share_file(await(std::move(then)), file.name, file.type, file.bytes);
}

void PlatformWeb::print_page(File page, std::function<void(Result<void>)> then) {
  browser::print_page(await(std::move(then)), page.name, page.bytes);
}

void PlatformWeb::answered(int number, int end) {
  const auto found = waiting_.find(number);
  if (found == waiting_.end()) return;
  Result<void> result;
  if (end == 1) result = refuse(Trouble::NotFound, "page.share.closed"_w);  // A person's own choice: no trouble.
  if (end == 2) result = refuse(Trouble::Ask, "page.share.again"_w);
  if (end == 3) result = refuse(Trouble::Unsupported, "page.share.not_here"_w);
  if (end == 4) result = refuse(Trouble::System, "page.store.no_copy"_w, {}, "store");
  answers_.push_back([then = std::move(found->second), result]() {
    if (then) then(result);
  });
  waiting_.erase(found);
  browser::wake(0);
}

bool PlatformWeb::answer() {
  std::deque<std::function<void()>> now;
  now.swap(answers_);
  for (const auto& one : now) one();
  return !now.empty();
}

// ---- Photos ----

void PlatformWeb::decode_photo(std::string bytes, int side, std::function<void(Result<Pixels>)> then) {
  decoding_[++numbers_] = std::move(then);
  browser::photo_decode(numbers_, bytes, side);
}

void PlatformWeb::pixels_came(int number, const char* rgba, int width, int height) {
  const auto found = decoding_.find(number);
  if (found == decoding_.end()) return;
  const auto then = std::move(found->second);
  decoding_.erase(found);
  if (rgba == nullptr || width < 1 || height < 1) return then(refuse(Trouble::Unsupported, "photo.cannot_show"_w));
  then(
      Pixels{width, height, std::string(rgba, static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 4)});
}

// ---- The device ----

void PlatformWeb::copy_text(std::string_view text) { browser::copy_text(text); }
void PlatformWeb::keep_awake(bool on) { browser::keep_awake(on); }
std::string PlatformWeb::language() { return browser::fact(browser::Fact::Language); }
char PlatformWeb::decimal_mark() { return browser::fact(browser::Fact::DecimalMark) == "," ? ',' : '.'; }
std::string PlatformWeb::zone_name() { return browser::fact(browser::Fact::Zone); }
void PlatformWeb::announce(std::string_view text, bool urgent) { browser::announce(text, urgent); }
void PlatformWeb::wake_at(Moment at) {
  if (!wake_ || at < *wake_) wake_ = at;
  browser::wake(std::max(0.0, static_cast<double>(at.ms) - browser::now_ms()));
}
void PlatformWeb::use_newer() { browser::use_newer(); }

}  // namespace steep
