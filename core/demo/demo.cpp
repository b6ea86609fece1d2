#include "demo/demo.h"

#include "demo/phone.h"
#include "demo/story.h"

namespace steep {
namespace {

constexpr int kDaysBefore = 73;  // The farm is written down then.

Zone zone_of(const DemoWish& wish) {
  if (auto zone = Zone::from_name(wish.zone_name)) return *zone;
  auto usual = Zone::from_name("America/Los_Angeles");
  return usual ? *usual : Zone();
}

Result<void> step_through(DemoMaker& maker) {
  for (;;) {
    TRY_ASSIGN(const auto& step, maker.step());
    if (step.done) return {};
  }
}

}  // namespace

struct DemoMaker::Work {
  Book book;
  Story story;
  std::vector<Deed> deeds;
  std::size_t next = 0;
  bool told = false;
};

DemoMaker::DemoMaker(std::unique_ptr<Work> work) : work_(std::move(work)) {}
DemoMaker::~DemoMaker() = default;

Result<std::unique_ptr<DemoMaker>> DemoMaker::start(const BookPlace& place, const DemoWish& wish,
                                                    std::function<void()> committed) {
  Story story = begin_story(wish.now, zone_of(wish));
  *story.clock = story.at(kDaysBefore, 19, 30);
  TRY_ASSIGN(Book book, Book::open(place, story_needs(story, 0xa1de2, std::move(committed))));
  if (book.is_started()) return refuse(Trouble::Conflict, "demo.not_empty"_w);
  return std::unique_ptr<DemoMaker>(
      new DemoMaker(std::unique_ptr<Work>(new Work{std::move(book), std::move(story), {}, 0, false})));
}

Result<DemoMaker::Step> DemoMaker::step() {
  Work& work = *work_;
  work.story.book = &work.book;
  if (!work.told) {
    work.told = true;
    TRY(work.book.set_copy_label("Ana's phone"));
    TRY(tell_places(work.story));
    work.story.ids["ana"] = work.story.ana;
    work.story.ids["marek"] = work.story.marek;
    TRY(tell_things(work.story));
    work.deeds = season(work.story);
  } else if (work.next < work.deeds.size()) {
    const Deed& deed = work.deeds[work.next++];
    work.story.go_to(deed.at);
    TRY(deed.what(work.story));
  }
  return Step{work.next == work.deeds.size(), static_cast<double>(work.next) / static_cast<double>(work.deeds.size())};
}

Result<void> make_demo(const BookPlace& place, const DemoWish& wish) {
  TRY_ASSIGN(const auto& maker, DemoMaker::start(place, wish));
  return step_through(*maker);
}

Result<void> make_demo_phone(const BookPlace& place, const Book& farm_book, const DemoWish& wish) {
  TRY_ASSIGN(const auto& sprayed, last_sulfur(farm_book));
  Story story = begin_story(wish.now, zone_of(wish));
  *story.clock = sprayed.start.at - kHour;
  TRY_ASSIGN(Book book, Book::open(place, story_needs(story, 0x3a2e4, {})));
  if (book.is_started()) return refuse(Trouble::Conflict, "demo.not_empty"_w);
  story.book = &book;
  return tell_phone(story, farm_book, sprayed);
}

}  // namespace steep
