#include "app/app.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/inside.h"
#include "book/places.h"
#include "book/things.h"
#include "book/work.h"
#include "imgui.h"
#include "look/caution.h"
#include "look/fonts.h"
#include "look/frame.h"
#include "look/sheet.h"

namespace steep {

App::App(Platform& platform, AppOptions options) : inside_(std::make_unique<Inside>(platform, options)) {
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  if (io.Fonts->Fonts.empty()) load_fonts(*io.Fonts);
  inside_->settings = read_settings(platform);
  inside_->last_now = platform.now().at;
  // Later than any program before it in this process, though the device's clock was set back since: look's never goes back.
  inside_->seconds = std::max(static_cast<double>(inside_->last_now.ms) / 1000, look_time());
  inside_->open_book();
}

App::~App() { inside_->keep_draft(); }

void App::frame() {
  inside_->frame();
  inside_->platform.wake_at(needs_frame() ? inside_->last_now : next_wake());
}
bool App::has_job() const { return inside_->has_job(); }
void App::work(std::int64_t milliseconds) {
  inside_->work(milliseconds);
  inside_->worked = true;
}
ItemTree& App::items() { return inside_->tree; }

bool App::needs_frame() const {
  const Inside& in = *inside_;
  return in.again || !in.drew || in.slow_deed || in.tree.has_requests() || in.look_next <= 0 || in.demo ||
         in.quiet_take || in.pictures.waits() ||
         (in.take && (in.take->stage() == TakeJob::Stage::Reading || in.take->stage() == TakeJob::Stage::Applying));
}

Moment App::next_wake() const {
  const Inside& in = *inside_;
  // Moments of a clock before 1970 do not happen: whole minutes by plain division.
  Moment wake{(in.last_now.ms / kMinute + 1) * kMinute};
  if (std::isfinite(in.look_next)) {
    wake = std::min(wake, in.last_now + static_cast<std::int64_t>(std::ceil(in.look_next * 1000)));
  }
  if (in.page_until) wake = std::min(wake, std::max(*in.page_until, in.last_now));
  return wake;
}

void App::dropped(File file) {
  if (!inside_->drop_photo(file)) inside_->dropped_files.push_back(std::move(file));
  inside_->take_dropped();
  inside_->again = true;
}

bool App::arrived(File file) { return inside_->take_quietly(std::move(file)); }

std::optional<std::string> App::to_come_again() { return std::exchange(inside_->come_again, std::nullopt); }

void App::arrived_unread(const Problem& problem) {
  inside_->toast(inside_->surroundings({}).sentence(problem));
  inside_->again = true;
}

void App::back() {
  // What was opened last goes first: the sheet, then the page.
  if (can_close_sheet())
    close_sheet();
  else
    inside_->back();
  inside_->again = true;
}
bool App::can_go_back() const { return can_close_sheet() || inside_->held_up || inside_->way.size() > 1; }

void App::went_hidden() {
  inside_->keep_draft();
  cancel_pointer();
}
void App::came_visible() { inside_->again = true; }
void App::pointer_cancelled() { cancel_pointer(); }
void App::storage_changed() { inside_->again = true; }
void App::book_changed_elsewhere() {
  if (inside_->book && inside_->book->changed_elsewhere()) inside_->again = true;
}

Language App::language() const { return inside_->settings.language; }
Theme App::theme() const { return inside_->look_now().theme; }
Color App::ground() const { return tokens(theme()).ground; }
std::string App::title() const {
  const std::string program = inside_->chosen_words()("app.program"_w);
  return inside_->farm.name.empty() ? program : inside_->farm.name + " · " + program;
}
Book* App::book() { return inside_->book ? &*inside_->book : nullptr; }

void App::Inside::open_book() {
  trouble.reset();
  quiet_take.reset();
  quiet_aside.waits = false;
  book.reset();
  kept.clear();
  drafts.clear();
  beds = {};
  key = 0;
  rest = {};
  auto opened = Book::open(platform.book_place(), needs_of(platform));
  if (opened) {
    book.emplace(std::move(*opened));
  } else {
    trouble = opened.error();
  }
  name_person();
  way = {home()};
  // A pass that was under way is where the person was.
  if (book && book->is_started()) {
    const auto open = pass_to_go_on(*book);
    if (open && *open) way.push_back({"spraying", **open});
  }
  again = true;
}

/// Where only one can be meant, nobody is asked who writes: a book with one person, or the demo.
void App::Inside::name_person() {
  if (!book || !book->is_started()) return;
  const auto all = people(*book);
  if (!all || all->empty()) return;
  const bool known = std::any_of(all->begin(), all->end(), [&](const Person& p) { return p.id == settings.person; });
  if (known || (all->size() > 1 && !book->is_demo())) return;
  if (platform.set_setting(setting::kPerson, all->front().id.text())) settings = read_settings(platform);
}

Look App::Inside::look_now() const {
  const ImGuiIO& io = ImGui::GetIO();
  const DeviceLook device = platform.device_look();
  Look look;
  switch (settings.theme) {
    case ThemeChoice::Day: look.theme = Theme::Day; break;
    case ThemeChoice::Dusk: look.theme = Theme::Dusk; break;
    case ThemeChoice::Auto: look.theme = device.dark ? Theme::Dusk : Theme::Day; break;
  }
  look.text_percent = settings.text_percent;
  look.left_handed = settings.left_handed;
  look.reduce_motion = settings.less_motion;
  look.native_text = options.native_text;
  look.density = io.DisplayFramebufferScale.x > 0 ? io.DisplayFramebufferScale.x : 1;
  look.width = io.DisplaySize.x;
  look.height = io.DisplaySize.y;
  look.safe = {device.inset_left, device.inset_top, device.inset_right, device.inset_bottom};
  return look;
}

UnitsShown App::Inside::units(const Farm& of) const {
  UnitsShown units;
  units.system = settings.system_chosen || of.id.is_nil() ? settings.system : of.units;
  units.mark = settings.mark;
  units.clock = settings.language == Language::Spanish ? Clock::Hours24 : Clock::Hours12;
  return units;
}

/// A record of another farm is shown by the clock and in the units of that farm.
Farm App::Inside::farm_about(const PagePlace& place) const {
  const Id of = place.record.is_nil() ? Id{} : farm_of(*book, place.record);
  if (of.is_nil() || of == farm.id) return farm;
  return read_farm(*book, of).value_or(farm);
}

Surroundings App::Inside::surroundings(const PagePlace& place) {
  const Farm about = farm_about(place);
  const Zone zone = about.zone_known ? about.zone : Zone::from_name(platform.zone_name()).value_or(Zone());
  return {*book,
          beds,
          platform,
          settings,
          chosen_words(),
          units(about),
          last_now,
          about.id,
          zone,
          zone.local(last_now).date,
          settings.person,
          place.record,
          place.other,
          place.word,
          take.get(),
          picked ? &*picked : nullptr,
          locked ? &*locked : nullptr,
          dropped_files.size()};
}

void App::Inside::tell_time() {
  const Moment now = platform.now().at;
  seconds += static_cast<double>(std::max<std::int64_t>(0, now - last_now)) / 1000;
  last_now = now;
}

/// Notices whatever views rest on, and reads anew what stands around every page.
void App::Inside::rest_moved() {
  const StorageHealth health = platform.storage();
  Rest moved;
  moved.counter = book->counter();
  moved.minute = last_now.ms / kMinute;
  moved.settings = settings;
  moved.save = health.state;
  moved.saved_at = health.last_saved;
  moved.photos_left = health.photos_left;
  moved.newer = platform.program().newer_waits;
  moved.take_stage = locked ? (locked->opening ? -2 : -3) : take ? static_cast<int>(take->stage()) : -1;
  moved.take_share = take ? take->share() : 0;
  moved.files_waiting = dropped_files.size();
  if (moved == rest && key != 0) return;
  if (moved.photos_left > rest.photos_left) toast(chosen_words().count("storage.photos_left"_w, moved.photos_left));
  const bool book_moved = key == 0 || moved.counter != rest.counter || !(moved.settings == rest.settings);
  Rest but_share = rest;
  but_share.take_share = moved.take_share;
  const bool only_share_moved = key != 0 && moved == but_share;
  rest = moved;
  ++key;
  if (only_share_moved) return;  // Of a file coming in: nothing around the page rests on it.
  if (book_moved) {
    farm = {};
    if (book->is_started()) {
      if (const auto all = farms(*book); all && !all->empty()) {
        const auto chosen =
            std::find_if(all->begin(), all->end(), [&](const Farm& f) { return f.id == settings.farm; });
        farm = chosen == all->end() ? all->front() : *chosen;
      }
    }
    not_confirmed = 0;
    // An invented farm is handed to nobody.
    if (const auto handed = book->handed_over(); handed && !book->is_demo())
      not_confirmed = static_cast<int>(handed->not_given + handed->given);
  }
  standing.reset();
  if (auto caution = standing_caution(surroundings({}))) standing = std::move(*caution);
  saved_detail = health.last_saved.ms > 0 ? surroundings({}).clock(health.last_saved) : std::string();
}

void App::Inside::frame() {
  again = false;
  tell_time();
  // Under its progress nothing has to follow a finger, but every frame must come soon enough for Cancel.
  if (!std::exchange(worked, false)) work(has_job() ? 24 : 6);
  take_dropped();
  if (book && book->changed_elsewhere()) again = true;
  pictures.step();
  if (book) rest_moved();
  if (seconds >= draft_due_s) keep_draft();

  const Words words = chosen_words();
  begin_look(look_now(), words, tree, seconds);
  page_until.reset();
  bool awake_wanted = false;
  if (platform.storage().elsewhere) {
    draw_elsewhere();
  } else if (demo) {
    draw_demo_progress();
  } else if (!book) {
    draw_trouble(*trouble, false);
  } else {
    const PagePlace place = here();
    draw_page(place);
    if (Page* current = kept.count(place) ? kept[place].get() : nullptr) {
      awake_wanted = current->keep_awake();
      page_until = current->good_until();
    }
  }
  if (!toast_text.empty()) {
    if (seconds < toast_until_s) {
      steep::toast(toast_text, toast_until_s);
    } else {
      toast_text.clear();
    }
  }
  end_look();
  slow_said = static_cast<bool>(slow_deed);
  if (std::exchange(reopen, false)) open_book();
  look_next = next_frame_in();
  if (draft_waits) look_next = std::min(look_next, std::max(0.0, draft_due_s - seconds));
  drew = true;
  if (awake_wanted != awake) {
    awake = awake_wanted;
    platform.keep_awake(awake);
  }
  if (again) look_next = 0;
}

}  // namespace steep
