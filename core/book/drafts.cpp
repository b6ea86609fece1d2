// Half-filled forms: kept at each blur, so that a phone put away mid-entry loses nothing.
#include "base/text.h"
#include "book/store.h"

namespace steep {
namespace {

Result<void> erase(const Database& db, std::string_view form) {
  for (const std::string_view sql : {"DELETE FROM draft WHERE form=?", "DELETE FROM draft_field WHERE form=?"}) {
    auto query = db.query(sql);
    query.bind(1, form);
    TRY(query.run());
  }
  return {};
}

std::string refs_text(const std::vector<ChangeRef>& refs) {
  std::vector<std::string> texts;
  for (const ChangeRef& ref : refs) texts.push_back(ref.text());
  return join(texts, " ");
}

}  // namespace

std::vector<ChangeRef> parse_refs(std::string_view text) {
  std::vector<ChangeRef> refs;
  for (const std::string_view piece : split(text, ' '))
    if (const auto ref = ChangeRef::parse(piece)) refs.push_back(*ref);
  return refs;
}

Result<void> Book::keep_draft(const Draft& draft) {
  // A draft is no write: views need not be computed again, and it may be kept beside a take's start.
  if (inside_->taking) return refuse(Trouble::Conflict, "book.busy"_w);
  TRY_ASSIGN(auto transaction, Transaction::begin(inside_->db));
  TRY(erase(inside_->db, draft.form));
  auto query = inside_->db.query("INSERT INTO draft(form, rec, heads, at) VALUES(?,?,?,?)");
  query.bind(1, draft.form).bind(2, draft.record).bind(3, refs_text(draft.heads)).bind(4, draft.at.ms);
  TRY(query.run());
  for (const auto& [key, text] : draft.fields) {
    auto field = inside_->db.query("INSERT INTO draft_field(form, key, text) VALUES(?,?,?)");
    field.bind(1, draft.form).bind(2, key).bind(3, text);
    TRY(field.run());
  }
  TRY(transaction.commit());
  if (inside_->needs.committed) inside_->needs.committed();
  return {};
}

Result<std::optional<Book::Draft>> Book::draft(std::string_view form) const {
  auto query = inside_->db.query("SELECT rec, heads, at FROM draft WHERE form=?");
  query.bind(1, form);
  if (!query.next()) {
    TRY(query.done());
    return std::optional<Draft>();
  }
  Draft draft{std::string(form), query.id(0), parse_refs(query.text_view(1)), {}, Moment{query.integer(2)}};
  TRY(query.done());
  auto fields = inside_->db.query("SELECT key, text FROM draft_field WHERE form=?");
  fields.bind(1, form);
  while (fields.next()) draft.fields[fields.text(0)] = fields.text(1);
  TRY(fields.done());
  return std::optional(std::move(draft));
}

Result<void> Book::drop_draft(std::string_view form) {
  if (inside_->taking) return refuse(Trouble::Conflict, "book.busy"_w);
  TRY_ASSIGN(auto transaction, Transaction::begin(inside_->db));
  TRY(erase(inside_->db, form));
  TRY(transaction.commit());
  if (inside_->needs.committed) inside_->needs.committed();
  return {};
}

}  // namespace steep
