#include "native/plain_out.h"

#include "base/text.h"

namespace steep {

PlainOut::~PlainOut() {
  PlainOut::sync();
  out_.rdbuf(below_);
}

PlainOut::int_type PlainOut::overflow(int_type c) {
  if (traits_type::eq_int_type(c, traits_type::eof())) return traits_type::not_eof(c);
  const char one = traits_type::to_char_type(c);
  xsputn(&one, 1);
  return c;
}

std::streamsize PlainOut::xsputn(const char* text, std::streamsize length) {
  open_.append(text, static_cast<std::size_t>(length));
  if (const std::size_t end = open_.rfind('\n'); end != std::string::npos) {
    const std::string lines = printable(std::string_view(open_).substr(0, end + 1));
    open_.erase(0, end + 1);
    below_->sputn(lines.data(), static_cast<std::streamsize>(lines.size()));
  }
  return length;
}

int PlainOut::sync() {
  const std::string rest = printable(open_);
  open_.clear();
  below_->sputn(rest.data(), static_cast<std::streamsize>(rest.size()));
  return below_->pubsync();
}

}  // namespace steep
