#pragma once
/// What a terminal is given: a name or note may come from somebody else's file and must not steer it.

#include <ostream>
#include <streambuf>
#include <string>

namespace steep {

/// As long as it lives, what goes to `out` loses control characters and bidirectional marks, as text on screen and on paper does.
class PlainOut : public std::streambuf {
 public:
  explicit PlainOut(std::ostream& out) : out_(out), below_(out.rdbuf(this)) {}
  ~PlainOut() override;
  PlainOut(const PlainOut&) = delete;
  PlainOut& operator=(const PlainOut&) = delete;

 protected:
  int_type overflow(int_type c) override;
  std::streamsize xsputn(const char* text, std::streamsize length) override;
  int sync() override;

 private:
  std::ostream& out_;
  std::streambuf* below_;
  std::string open_;  ///< A line that has not ended.
};

}  // namespace steep
