#include "screens/photos_of_record.h"

#include <algorithm>

#include "base/text.h"
#include "book/photos.h"
#include "book/things.h"
#include "look/button.h"
#include "look/draw.h"
#include "look/press.h"
#include "screens/fact_text.h"
#include "screens/photo_words.h"

namespace steep {
namespace {

constexpr float kCell = 112, kGap = 10, kWords = 40;

bool photo_cell(const Box& box, const PhotosView::Shown& photo, const PhotosView& view, const Furniture& furniture) {
  const std::string name = join({photo.caption, photo.detail}, ", ");
  const Press hit = press({.id = item_id(photo.record.text()), .role = Role::Row, .name = name}, box);
  if (!is_visible(box)) return hit.pressed;
  const Box picture = box.with_height(kCell);
  draw_photo(picture, photo, view, furniture, false);
  edge_box(picture, hit.down ? colors().ink : colors().line, size::kEdgeGroup);
  draw_cut({box.left, picture.bottom + 2, box.right, picture.bottom + 22}, TextStyle::Label, colors().ink,
           photo.caption);
  draw_cut({box.left, picture.bottom + 20, box.right, picture.bottom + 40}, TextStyle::Label, colors().ink2,
           photo.detail);
  if (hit.focused) focus_ring(picture, 0);
  return hit.pressed;
}

}  // namespace

PhotosView::Shown photo_shown(const Surroundings& around, const Photo& photo) {
  PhotosView::Shown shown;
  shown.record = photo.id;
  shown.hash = photo.hash;
  shown.here = around.platform.photos().has(photo.hash);
  shown.struck = photo.is_struck();
  shown.caption = !photo.caption.empty() ? photo.caption
                  : !photo.name.empty()  ? photo.name
                                         : around.words("kind.photo"_w);
  if (shown.struck)
    shown.detail = around.words("record.struck"_w, {reason_text(photo.struck, around.words)});
  else if (!shown.here)
    shown.detail = photo_away(around.book, photo, around.words);
  else
    shown.detail =
        author_text(around, photo.at ? photo.at->at : photo.made.at, called_name(around.book, photo.made_by), {});
  return shown;
}

Result<PhotosView> photos_view(const Surroundings& around, const Id& of) {
  const Words& words = around.words;
  PhotosView view;
  view.of = of;
  view.cannot = words("photo.cannot_show_short"_w);
  view.away = words("photo.away"_w);
  const bool is_photo = around.book.kind_of(of) == "photo";
  TRY_ASSIGN(const auto photos, is_photo ? all_photos(around.book) : photos_of(around.book, of));
  for (const Photo& photo : photos)
    if (!is_photo || photo.id == of) view.photos.push_back(photo_shown(around, photo));
  view.head = words("photo.head"_w);
  if (is_photo) return view;
  view.add = words("photo.add"_w);
  if (around.platform.can(Verb::Camera)) view.take = words("photo.take"_w);
  return view;
}

void draw_photo(const Box& box, const PhotosView::Shown& photo, const PhotosView& view, const Furniture& furniture,
                bool whole) {
  const auto shown =
      photo.here && furniture.pictures ? furniture.pictures->of(photo.hash, whole) : PictureSource::Shown{};
  if (shown.picture) {
    if (whole)
      shown.picture->draw_whole(box);
    else
      shown.picture->draw_filling(box);
    return;
  }
  fill_box(box, colors().well);
  const bool comes = photo.here && !shown.cannot;
  const std::string& text = comes ? std::string() : photo.here ? view.cannot : view.away;
  const float height = text.empty() ? 0 : wrapped_height(box.width() - 12, TextStyle::Label, text);
  draw_icon({box.center().x, box.center().y - height / 2}, 28, Icon::Camera, colors().ink2);
  if (!text.empty())
    draw_wrapped({box.left + 6, box.center().y + 18 - height / 2, box.right - 6, box.bottom}, TextStyle::Label,
                 colors().ink2, text, Align::Center);
}

std::optional<Ask> draw_photos(Pen& pen, const PhotosView& view, const Furniture& furniture) {
  std::optional<Ask> ask;
  if (view.head.empty()) return ask;
  const IdScope scope("photos");
  heading(pen, view.head);
  pen.space(8);
  const int across = std::max(1, static_cast<int>((pen.width() + kGap) / (kCell + kGap)));
  for (std::size_t i = 0; i < view.photos.size(); i += static_cast<std::size_t>(across)) {
    const Box row = pen.take(kCell + kWords + kGap);
    for (std::size_t j = i; j < std::min(view.photos.size(), i + static_cast<std::size_t>(across)); ++j) {
      const float left = row.left + static_cast<float>(j - i) * (kCell + kGap);
      if (photo_cell({left, row.top, left + kCell, row.top + kCell + kWords}, view.photos[j], view, furniture))
        ask = Go{{"photo", view.photos[j].record}};
    }
  }
  if (view.add.empty()) return ask;
  const ButtonSpec add{
      .id = "add-photo", .text = view.add, .icon = Icon::Plus, .file_pick = true, .picks = PickKind::Photo};
  const ButtonSpec take{
      .id = "take-photo", .text = view.take, .icon = Icon::Camera, .file_pick = true, .picks = PickKind::Camera};
  const int pressed = view.take.empty() ? (button(pen, add) ? 1 : -1) : buttons(pen, {take, add});
  if (pressed >= 0) ask = PickPhoto{view.of};
  pen.space(size::kCardGap);
  return ask;
}

}  // namespace steep
