// Photos that a person chooses, drops, or saves.
#include <algorithm>
#include <utility>

#include "app/inside.h"
#include "book/enter.h"
#include "book/photos.h"

namespace steep {

void App::Inside::on(const PickPhoto& ask, const PagePlace& from) {
  platform.pick_photo([this, of = ask.of, from](Result<File> file) {
    again = true;
    if (file)
      photo_picked(of, std::move(*file), from);
    else if (file.error().kind != Trouble::NotFound)
      set_problem(from, file.error());  // Nothing chosen is no trouble.
  });
}

/// To the page where the rest is said; a file that is no photo is refused at once.
bool App::Inside::photo_picked(const Id& of, File file, const PagePlace& from) {
  if (!book || busy()) return false;
  if (const auto type = check_photo(file.bytes); !type) {
    set_problem(from, type.error());
    return false;
  }
  picked = PickedPhoto{std::move(file), {}};
  picked->hash = sha256(picked->file.bytes);
  pictures.add_bytes(picked->hash, picked->file.bytes);
  // Proposed: when the file was written, which for a photo just taken is when it was taken.
  DraftFields fill{{"caption", ""}, {"when", ""}};
  if (picked->file.changed.ms > 0) {
    const LocalTime local = surroundings({}).zone.local(picked->file.changed);
    fill["when"] = date_text(local.date) + " " + clock_text(local);
  }
  go({{"add-photo", of}, false, std::move(fill)});
  return true;
}

void App::Inside::on(const AddPhoto& ask, const PagePlace& from) {
  if (!picked) return;
  PhotoGiven given{ask.of, picked->file.bytes, picked->file.name, ask.caption, {}};
  if (!ask.when.empty()) {
    const auto at = read_time(ask.when, surroundings({}).zone, book->now());
    if (!at) return set_problem(from, at.error());
    given.at = *at;
  }
  Do deed;
  deed.what = [this, given = std::move(given)](Book& to, const Going& going) {
    return add_photo(to, platform.photos(), given, going);
  };
  deed.then = [this](const Outcome&) -> std::optional<Ask> {
    picked.reset();
    return Back{};
  };
  deed.ends_draft = true;
  run(deed, from, {});
}

void App::Inside::on(const SavePhoto& ask, const PagePlace& from) {
  const auto all = all_photos(*book);
  if (!all) return set_problem(from, all.error());
  const auto photo = std::find_if(all->begin(), all->end(), [&](const Photo& one) { return one.id == ask.photo; });
  if (photo == all->end()) return;
  File file{photo_file_name(*photo), {}, {}, {}};
  if (const auto type = photo_type_of_word(photo->type)) file.type = photo_media(*type);
  platform.photos().read(photo->hash,
                         [this, from, file = std::move(file), share = ask.share](Result<std::string> bytes) mutable {
                           if (!bytes) return set_problem(from, bytes.error());
                           file.bytes = std::move(*bytes);
                           const auto out = [this, from](Result<void> done) {
                             if (!done && done.error().kind != Trouble::NotFound) set_problem(from, done.error());
                           };
                           if (share)
                             platform.share_file(std::move(file), out);
                           else
                             platform.save_file(std::move(file), out);
                         });
}

/// A photo dropped while a record is looked at is meant for it; one that a record of ours waits for is taken in. True when
/// it was dealt with here.
bool App::Inside::drop_photo(File& file) {
  if (!book || way.empty() || !photo_type(file.bytes)) return false;
  static constexpr std::string_view kPages[] = {"record", "bed", "brew-page", "add-photo"};
  const PagePlace place = here();
  if (place.record.is_nil() || std::find(std::begin(kPages), std::end(kPages), place.page) == std::end(kPages))
    return false;
  const Hash hash = sha256(file.bytes);
  const auto named = photos_named(*book);
  if (named && named->count(hash) > 0 && !platform.photos().has(hash)) return false;
  photo_picked(place.record, std::move(file), place);
  return true;
}

}  // namespace steep
