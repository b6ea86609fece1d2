#include "paper/html.h"

#include "base/text.h"

namespace steep {

std::string escape_html(std::string_view text) {
  std::string out;
  for (const char c : printable(text)) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\'': out += "&#39;"; break;
      default: out += c;
    }
  }
  return out;
}

Html& Html::open(std::string_view tag, std::initializer_list<Attribute> attributes) {
  (out_ += '<') += tag;
  for (const Attribute& attribute : attributes)
    ((((out_ += ' ') += attribute.name) += "=\"") += escape_html(attribute.value)) += '"';
  out_ += '>';
  return *this;
}

Html& Html::close(std::string_view tag) {
  ((out_ += "</") += tag) += ">\n";
  return *this;
}

Html& Html::text(std::string_view text) {
  out_ += escape_html(text);
  return *this;
}

Html& Html::leaf(std::string_view tag, std::string_view content, std::initializer_list<Attribute> attributes) {
  return open(tag, attributes).text(content).close(tag);
}

Html& Html::empty(std::string_view tag, std::initializer_list<Attribute> attributes) { return open(tag, attributes); }

Html& Html::raw(std::string_view markup) {
  out_ += markup;
  return *this;
}

}  // namespace steep
