#pragma once
/// Building one self-contained HTML page: no scripts, nothing from outside, styles by class only.

#include <initializer_list>
#include <string>
#include <string_view>

namespace steep {

/// Text as it may stand between tags and in double-quoted attributes; control characters and
/// bidirectional overrides are taken out.
std::string escape_html(std::string_view text);

/// Writes tags that close in the order in which they were opened. Attribute values are escaped.
class Html {
 public:
  struct Attribute {
    std::string_view name;
    std::string_view value;
  };
  Html& open(std::string_view tag, std::initializer_list<Attribute> attributes = {});
  Html& close(std::string_view tag);
  Html& text(std::string_view text);
  /// A tag with nothing but text in it.
  Html& leaf(std::string_view tag, std::string_view text, std::initializer_list<Attribute> attributes = {});
  Html& empty(std::string_view tag, std::initializer_list<Attribute> attributes = {});
  /// Finished markup of our own making.
  Html& raw(std::string_view markup);
  std::string finish() { return std::move(out_); }

 private:
  std::string out_;
};

}  // namespace steep
