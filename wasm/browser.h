#pragma once
/// What the page's C++ asks of the browser. Thin: each function is a call of one method of the `host`
/// object that wasm/page/js hands in at the start (`Module.host`); the work is done there.

#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace steep::browser {

/// Texts that the browser knows.
enum class Fact { Language = 0, DecimalMark = 1, Zone = 2 };
std::string fact(Fact what);

double now_ms();       ///< Since 1970, UTC; jumps when the device's clock is set.
double steady_ms();    ///< Since the page began; never set.
int offset_minutes();  ///< Local = UTC + offset.
void random(std::span<std::uint8_t> bytes);

std::string setting(std::string_view key);
bool set_setting(std::string_view key, std::string_view value);

/// The write described by the buffers; copies before it returns. Numbers are page and segment numbers,
/// addresses those of their bytes, counts the pages of each segment. Answered by page_written().
void store_write(std::uint64_t ticket, std::uint64_t expected, std::uint32_t page_count, std::uint64_t sum,
                 std::uint32_t schema, std::span<const std::uint32_t> pages, std::span<const std::uint32_t> segments);
void store_reopen();
/// Sets the stored book aside, in order after the writes begun so far; keeps the newest two. Answered by page_answer().
void store_copy_aside(int number);
void store_ask_lasting();

/// Goes out with the next store_write; copies before it returns.
void photo_keep(std::string_view name, std::string_view bytes);
/// Answered by page_photo() with the number.
void photo_read(int number, std::string_view name);
/// Answered by page_pixels() with the number.
void photo_decode(int number, std::string_view bytes, int side);

void wake(double in_ms);  ///< A frame at the latest in so many ms; 0 = the next one.
void announce(std::string_view text, bool urgent);
void mirror(std::span<const std::uint8_t> items);
/// Colors '#rrggbb' of what lies beside the canvas: page, fields, their text.
void colors(std::string_view ground, std::string_view surface, std::string_view ink, bool dark);
void language(std::string_view code, std::string_view title);

bool can(int verb);  ///< Verb of host/platform.h by its number.
bool can_share(std::string_view name, std::string_view type);
bool can_download();  ///< Else a file that is saved goes by the share sheet.
/// The answers of these come with the number, through page_answer().
void save_file(int number, std::string_view name, std::string_view type, std::string_view bytes);
void share_file(int number, std::string_view name, std::string_view type, std::string_view bytes);
void print_page(int number, std::string_view name, std::string_view bytes);
void copy_text(std::string_view text);
void keep_awake(bool on);
void use_here();
void use_newer();
void get_book_out();

}  // namespace steep::browser
