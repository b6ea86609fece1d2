#include <algorithm>
#include <utility>

#include "app/inside.h"

namespace steep {
namespace {

/// Typing rests this long before it is kept.
constexpr double kDraftRest_s = 0.4;

/// First screens of tabs: the five of the bottom bar, on wide screens all of the rail.
bool is_root(const PagePlace& place, bool wide) {
  const auto all = tabs().first(wide ? tabs().size() : 5);
  return std::any_of(all.begin(), all.end(), [&](const TabEntry& tab) { return tab.page == place.page; }) ||
         place.page == "first-run";
}

}  // namespace

std::string form_of(const PagePlace& place) {
  std::string form = place.page;
  if (!place.word.empty()) form += "/" + place.word;
  if (!place.record.is_nil()) form += ":" + place.record.text();
  return form;
}

PagePlace App::Inside::home() const {
  if (book && !book->is_started()) return {"first-run", {}};
  return {std::string(tabs().front().page), {}};
}

Page* App::Inside::page(const PagePlace& place) {
  auto& slot = kept[place];
  if (!slot) {
    slot = make_page(place.page);
    if (slot) load_draft(place, *slot);
  }
  return slot.get();
}

void App::Inside::forget(const PagePlace& place) {
  if (draft_waits == place) keep_draft();
  // Tabs keep what was open in them; other pages are made anew next time, from their draft if they have one.
  if (!is_root(place, look_now().wide_rail()) && std::find(way.begin(), way.end(), place) == way.end()) {
    kept.erase(place);
    drafts.erase(place);
  }
}

void App::Inside::go(const Go& ask) {
  keep_draft();
  const std::vector<PagePlace> before = way;
  if (is_root(ask.to, look_now().wide_rail())) {
    way = {ask.to};
  } else {
    if (ask.instead) way.pop_back();
    // Going to where one came from is going back.
    const auto seen = std::find(way.begin(), way.end(), ask.to);
    way.erase(seen == way.end() ? seen : seen + 1, way.end());
    if (way.empty() || way.back() != ask.to) way.push_back(ask.to);
  }
  if (way.empty()) way = {home()};
  for (const PagePlace& place : before) forget(place);
  if (!ask.fill.empty()) fill_form(ask.fill);
  again = true;
}

/// Results of another page, put into the form of the one shown.
void App::Inside::fill_form(const DraftFields& fill) {
  Page* shown = page(here());
  if (!shown || !shown->has_draft()) return;
  DraftFields fields = shown->draft().value_or(DraftFields{});
  for (const auto& [name, value] : fill) fields[name] = value;
  shown->take_draft(fields);
}

bool App::Inside::back() {
  again = true;
  if (held_up) {
    held_up.reset();
    return true;
  }
  if (way.size() < 2) return false;
  keep_draft();
  const PagePlace left = way.back();
  way.pop_back();
  forget(left);
  return true;
}

void App::Inside::load_draft(const PagePlace& place, Page& shown) {
  if (!shown.has_draft() || !book) return;
  KeptDraft& draft = drafts[place];
  draft.loaded = true;
  const auto stored = book->draft(form_of(place));
  if (stored && *stored) {
    draft.fields = (*stored)->fields;
    draft.kept_at = (*stored)->at;
    shown.take_draft(draft.fields);
  }
}

/// Notices that something was typed; it is kept once typing rests.
void App::Inside::watch_draft(const PagePlace& place, Page& shown) {
  if (!shown.has_draft() || !book) return;
  const auto fields = shown.draft();
  if (!fields || *fields == drafts[place].fields) return;
  draft_waits = place;
  draft_due_s = seconds + kDraftRest_s;
}

void App::Inside::keep_draft() {
  if (!draft_waits) return;
  const PagePlace place = *std::exchange(draft_waits, std::nullopt);
  const auto found = kept.find(place);
  if (!book || found == kept.end() || !found->second) return;
  const auto fields = found->second->draft();
  if (!fields) return;
  KeptDraft& draft = drafts[place];
  if (fields->empty()) {
    if (!draft.fields.empty() && !book->drop_draft(form_of(place))) return;
    draft = {{}, true, {}};
    return;
  }
  Book::Draft to_keep;
  to_keep.form = form_of(place);
  to_keep.record = place.record;
  to_keep.fields = *fields;
  to_keep.at = last_now;
  if (const auto done = book->keep_draft(to_keep); !done) {
    set_problem(place, done.error());
    return;
  }
  draft.fields = *fields;
  draft.kept_at = last_now;
  platform.keep();
  again = true;
}

}  // namespace steep
