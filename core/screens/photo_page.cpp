#include "screens/photo_page.h"

#include <algorithm>

#include "book/photos.h"
#include "look/button.h"
#include "look/field.h"
#include "screens/fact_text.h"
#include "screens/parts.h"
#include "screens/photo_words.h"

namespace steep {
namespace {

/// As high as the screen leaves beside the words, and never more than twice its width.
void large_photo(Pen& pen, const PhotosView& photos, const Furniture& furniture, float most) {
  if (photos.photos.empty()) return;
  const auto& photo = photos.photos.front();
  float height = std::min(most, pen.width() * 0.75f);
  if (photo.here && furniture.pictures)
    if (const Picture* picture = furniture.pictures->of(photo.hash, true).picture)
      height = std::min(most, pen.width() / picture->ratio());
  const Box box = pen.take(height);
  draw_photo(box, photo, photos, furniture, true);
  pen.space(12);
}

}  // namespace

Result<PhotoPageView> photo_page_view(const Surroundings& around, const PhotoPageInput&) {
  const Words& words = around.words;
  TRY_ASSIGN(const auto all, all_photos(around.book));
  const auto photo = std::find_if(all.begin(), all.end(), [&](const Photo& one) { return one.id == around.record; });
  if (photo == all.end()) return refuse(Trouble::NotFound, "record.not_here"_w);
  PhotoPageView view;
  TRY_ASSIGN(view.photos, photos_view(around, around.record));
  const PhotosView::Shown shown = photo_shown(around, *photo);
  view.title = shown.caption;
  view.second = record_title(around, photo->of);
  if (photo->at) view.when = words("photo.taken_at"_w, {around.when(photo->at->at)});
  view.size =
      words("photo.size"_w, {words.stored("word." + photo->type, photo->type), bytes_text(photo->size, around.units)});
  if (shown.here)
    view.save = words(around.platform.can(Verb::ShareFile) ? "photo.send"_w : "photo.save"_w);
  else
    view.missing = photo_away(around.book, *photo, words) + ". " + words("photo.how_it_comes"_w);
  view.shares = around.platform.can(Verb::ShareFile);
  view.record = words("photo.its_record"_w);
  return view;
}

std::optional<Ask> draw_photo_page(const PhotoPageView& view, PhotoPageInput&, const Furniture& furniture) {
  std::optional<Ask> ask;
  const Id record = view.photos.photos.empty() ? Id{} : view.photos.photos.front().record;
  Screen screen(furniture.form("photo", view.title, view.second));
  {
    ScreenPart main = screen.main();
    Pen column = reading_column(main.pen(), 960);
    problem_line(column, furniture.problem);
    large_photo(column, view.photos, furniture, std::max(200.0f, screen.main_area().height() - 60));
    if (!view.missing.empty()) paragraph(column, view.missing);
    if (!view.when.empty()) paragraph(column, view.when, TextStyle::Label);
    paragraph(column, view.size, TextStyle::Label);
    main.pen().below(column);
  }
  {
    ScreenPart actions = screen.actions();
    const ButtonSpec its{.id = "record", .text = view.record, .icon = Icon::History};
    const ButtonSpec save{.id = "save", .text = view.save, .icon = Icon::Download, .kind = ButtonKind::Primary};
    const int pressed = view.save.empty() ? (button(actions.pen(), its) ? 0 : -1) : buttons(actions.pen(), {its, save});
    if (pressed == 0) ask = Go{{"record", record}};
    if (pressed == 1) ask = SavePhoto{record, view.shares};
  }
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

DraftFields draft_fields(const AddPhotoInput& input) { return {{"caption", input.caption}, {"when", input.when}}; }

void from_draft(AddPhotoInput& input, const DraftFields& fields) {
  if (const auto caption = fields.find("caption"); caption != fields.end()) input.caption = caption->second;
  if (const auto when = fields.find("when"); when != fields.end()) input.when = when->second;
}

Result<AddPhotoView> add_photo_view(const Surroundings& around, const AddPhotoInput&) {
  const Words& words = around.words;
  AddPhotoView view;
  view.of = around.record;
  view.title = words("photo.add"_w);
  view.second = record_title(around, around.record);
  view.photos.cannot = words("photo.cannot_show_short"_w);
  view.caption_label = words("photo.caption"_w);
  view.when_label = words("photo.when"_w);
  view.when_hint = words("photo.when_hint"_w);
  view.go = words("photo.keep"_w);
  if (!around.picked) {
    view.none = words("photo.choose_again"_w);
    return view;
  }
  view.photos.photos.push_back({around.record, around.picked->hash, {}, {}, true, false});
  view.size = bytes_text(static_cast<std::int64_t>(around.picked->file.bytes.size()), around.units);
  return view;
}

std::optional<Ask> draw_add_photo(const AddPhotoView& view, AddPhotoInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  Screen screen(furniture.form("add-photo", view.title, view.second));
  {
    ScreenPart main = screen.main();
    Pen column = reading_column(main.pen());
    problem_line(column, furniture.problem);
    large_photo(column, view.photos, furniture, 320);
    if (!view.none.empty()) paragraph(column, view.none);
    if (!view.size.empty()) paragraph(column, view.size, TextStyle::Label);
    column.space(12);
    text_field(column, {.id = "caption", .label = view.caption_label, .max_length = 200}, input.caption);
    column.space(12);
    text_field(column, {.id = "when", .label = view.when_label, .hint = view.when_hint, .max_length = 40}, input.when);
    main.pen().below(column);
  }
  {
    ScreenPart actions = screen.actions();
    if (button(actions.pen(), {.id = "keep",
                               .text = view.go,
                               .kind = ButtonKind::Primary,
                               .enabled = view.none.empty(),
                               .why_not = view.none}))
      ask = AddPhoto{view.of, input.caption, input.when};
  }
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
