#pragma once
/// The item tree: what is on screen, in reading order, with names that can be spoken.
///
/// Every frame that drew leaves one. Three things live on it: tests find items by name and press
/// them without a window; the page mirrors it as real, transparent DOM elements for screen readers
/// and browser tests; text fields become real inputs lying over the canvas before they are touched.
/// Rows of a long list that were clipped are in it too: the view gives all of them.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace steep {

/// In dp (CSS pixels), from the top left of the drawing area.
struct ItemRect {
  float left = 0, top = 0, right = 0, bottom = 0;
  bool operator==(const ItemRect&) const = default;
};

enum class Role {
  Heading,  ///< Title of a screen, sheet or section.
  Text,     ///< A sentence or number worth speaking.
  Button,
  Tab,       ///< One of the bar; `on` = current.
  Choice,    ///< One of a segmented choice or a list to choose from; `on` = chosen.
  Check,     ///< `on` = ticked.
  Row,       ///< A row that opens something.
  Field,     ///< Takes text.
  FilePick,  ///< A button over which the page lays a real file input.
  Dialog,    ///< A sheet; items after it, until the end, belong to it.
  Status,    ///< Saved mark, live sums: spoken politely on change.
  Alert,     ///< Cautions, not saved: spoken at once on change.
};

/// What a FilePick wants: any file, a photo, or one taken now.
enum class PickKind { File, Photo, Camera };

enum class FieldKind {
  Text,
  Code,
  Decimal,
  Integer,
  MultiLine,
  Secret,  ///< Signs stand for what is typed; a screen reader speaks none of it.
};

struct Item {
  std::uint32_t id = 0;  ///< Stable from frame to frame while the thing is the same.
  Role role = Role::Text;
  std::string name;   ///< Whole phrase with state and unit: 'Tea 1.78 gallons, less'.
  std::string value;  ///< Of fields: the text in it.
  std::string error;  ///< Of fields: the sentence below it.
  ItemRect rect;      ///< Clipped to what is visible; empty when clipped or covered.
  bool enabled = true;
  bool on = false;
  bool drawn = true;  ///< False for rows of a long list outside the visible part.
  FieldKind kind = FieldKind::Text;
  PickKind picks = PickKind::File;  ///< Of FilePick.
  float font_px = 16;               ///< Of fields.
  int max_length = 0;               ///< Of fields, in code points; 0 = none.
  bool operator==(const Item&) const = default;
};

class ItemTree {
 public:
  /// Called by the frame around all drawing.
  void begin_frame();
  void end_frame();
  /// Called by widgets, in reading order.
  void add(Item item);

  /// Items of the last complete frame.
  const std::vector<Item>& items() const { return shown_; }
  /// Moves on when items() differs from the frame before.
  std::uint64_t version() const { return version_; }

  /// Asks that the item be pressed at the next frame, as a tap on it would: by tests, assistive
  /// technology, the page's mirror. False when the id is not on screen or not enabled.
  bool press(std::uint32_t id);
  /// Replaces the whole text of a field at the next frame. `done` = the person left the field.
  bool type(std::uint32_t id, std::string text, bool done);
  /// Brings a clipped row into view at the next frame.
  void reveal(std::uint32_t id);

  /// For widgets: was this item asked to be pressed? Asked once, answered once.
  bool take_press(std::uint32_t id);
  bool take_typing(std::uint32_t id, std::string& text, bool& done);
  bool take_reveal(std::uint32_t id);
  /// Does anything wait to be taken? Then a frame is wanted.
  bool has_requests() const;

  /// The item with this name (whole, or its start when `name` ends in '…'); nullptr when there is none.
  const Item* find(std::string_view name) const;
  const Item* find(Role role, std::string_view name) const;

 private:
  struct Asked {
    std::uint32_t id = 0;
    int frames = 0;  ///< Complete frames it has waited.
  };
  struct Typing {
    std::uint32_t id = 0;
    std::string text;
    bool done = false;
    int frames = 0;
  };
  std::vector<Item> shown_, building_;
  std::vector<Asked> presses_, reveals_;
  std::vector<Typing> typings_;
  std::uint64_t version_ = 0;
};

/// The tree that widgets write to; the frame sets it (app/ owns one per window).
ItemTree& item_tree();
void set_item_tree(ItemTree* tree);

}  // namespace steep
