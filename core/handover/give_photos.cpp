#include "handover/give_photos.h"

#include <algorithm>
#include <map>
#include <memory>
#include <set>

#include "base/sorting.h"

namespace steep {
namespace {

bool was_written_by(const Book& book, const Photo& photo, const Id& copy) {
  const std::vector<Lane> lanes = book.lanes();
  return std::any_of(lanes.begin(), lanes.end(),
                     [&](const Lane& lane) { return lane.id == photo.lane && lane.copy == copy; });
}

/// Last sequences that the other copy is known to have.
std::map<Id, std::int64_t> known_to(const std::vector<Book::Peer>& peers, const std::optional<Id>& copy) {
  std::map<Id, std::int64_t> known;
  for (const Book::Peer& peer : peers)
    if (copy == peer.copy)
      for (const ChangeRef& tip : peer.tips) known[tip.lane] = std::max(known[tip.lane], tip.seq);
  return known;
}

Result<bool> is_wanted(const Book& book, const Photo& photo, const GiveRequest& request,
                       const std::map<Id, std::int64_t>& known) {
  const auto& parts = request.parts;
  if (!parts.empty() && std::find(parts.begin(), parts.end(), photo.part) == parts.end()) return false;
  const auto lane = known.find(photo.lane);
  if (lane == known.end() || photo.seq > lane->second) return true;
  // That a copy has the record says nothing of the bytes: what went out to others never reached it.
  if (was_written_by(book, photo, *request.lacking_at)) return false;
  TRY_ASSIGN(const Moment& given, book.photo_given(photo.hash, request.lacking_at));
  return given.ms == 0;
}

/// One read after the other, without growing the stack where the store answers at once.
struct ReadingPhotos : std::enable_shared_from_this<ReadingPhotos> {
  PhotoStore& store;
  PhotosToGive wanted;
  std::function<void(std::vector<PhotoBytes>)> then;
  std::vector<PhotoBytes> read = {};
  std::size_t at = 0;
  bool inside = false, answered = false;

  ReadingPhotos(PhotoStore& from, PhotosToGive what, std::function<void(std::vector<PhotoBytes>)> done)
      : store(from), wanted(std::move(what)), then(std::move(done)) {}

  void go_on() {
    while (at < wanted.photos.size()) {
      inside = true;
      answered = false;
      store.read(wanted.photos[at].hash,
                 [self = shared_from_this()](Result<std::string> bytes) { self->came(std::move(bytes)); });
      inside = false;
      if (!answered) return;
    }
    then(std::move(read));
  }
  void came(Result<std::string> bytes) {
    PhotosToGive::One& one = wanted.photos[at++];
    if (bytes && photo_type(*bytes)) read.push_back({one.hash, std::move(one.name), std::move(*bytes)});
    answered = true;
    if (!inside) go_on();
  }
};

}  // namespace

Result<PhotosToGive> photos_to_give(const Book& book, const GiveRequest& request, const PhotoStore& store,
                                    std::int64_t most) {
  TRY_ASSIGN(auto photos, all_photos(book));
  TRY_ASSIGN(const auto& peers, book.peers());
  const auto known = known_to(peers, request.lacking_at);
  sort_list(photos, [](const Photo& a, const Photo& b) { return a.given < b.given; });
  PhotosToGive wanted;
  std::set<Hash> seen;
  for (const Photo& photo : photos) {
    TRY_ASSIGN(const bool& is_due, is_wanted(book, photo, request, known));
    if (!is_due || !seen.insert(photo.hash).second) continue;
    if (!store.has(photo.hash)) {
      ++wanted.not_here;
    } else if (wanted.bytes + photo.size > most) {
      ++wanted.left_out;
    } else {
      wanted.photos.push_back({photo.hash, photo.caption.empty() ? photo.name : photo.caption, photo.size});
      wanted.bytes += photo.size;
    }
  }
  return wanted;
}

void read_photos(PhotoStore& store, PhotosToGive wanted, std::function<void(std::vector<PhotoBytes>)> then) {
  std::make_shared<ReadingPhotos>(store, std::move(wanted), std::move(then))->go_on();
}

}  // namespace steep
