#pragma once
/// Text fields. On the page a real input lies over the box drawn here and sends its text through
/// the item tree; natively it is ImGui::InputText. Both read and write the caller's std::string.

#include <string>
#include <string_view>

#include "look/icons.h"
#include "look/layout.h"

namespace steep {

struct TextField {
  std::string_view id = {};
  std::string_view label = {};  ///< Above, 14 bold; also the spoken name.
  std::string_view hint = {};   ///< In ink2 while empty.
  std::string_view error = {};  ///< Below, with '!'; empty = none.
  std::string_view unit = {};   ///< At the right inside.
  Icon icon = Icon::None;       ///< At the left inside (magnifier).
  FieldKind kind = FieldKind::Text;
  int max_length = 0;  ///< Code points; 0 = none.
  bool enabled = true;
  int lines = 3;              ///< Of MultiLine.
  bool label_hidden = false;  ///< Spoken only (search).
};

struct FieldEvent {
  bool changed = false;  ///< The string was changed.
  bool done = false;     ///< The person left the field or pressed Enter: parse it now.
  bool focused = false;
};

FieldEvent text_field(Pen& pen, const TextField& spec, std::string& text);
FieldEvent text_field(const Box& box, const TextField& spec, std::string& text);  ///< No label, no error line.
float text_field_height(float width, const TextField& spec);
/// Puts the caret into it at the next frame (natively; on the page the finger does).
void focus_field(std::string_view id);

}  // namespace steep
