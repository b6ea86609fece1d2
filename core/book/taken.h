#pragma once
/// A value that may be there, may have been left out on purpose, or may never have been asked for.

#include <optional>
#include <utility>

namespace steep {

/// 'Not taken' is a value of its own: never zero, never blank. A reading that nobody took and a field
/// that no form has asked for yet are two different things, and no sum or wait treats either as 0.
template <class T>
class Taken {
 public:
  enum class State { NeverAsked, NotTaken, There };

  Taken() = default;
  Taken(T value) : value_(std::move(value)), state_(State::There) {}  // NOLINT: a value is there.
  static Taken not_taken() {
    Taken taken;
    taken.state_ = State::NotTaken;
    return taken;
  }

  State state() const { return state_; }
  bool is_there() const { return state_ == State::There; }
  bool is_not_taken() const { return state_ == State::NotTaken; }
  explicit operator bool() const { return is_there(); }

  /// Only when it is there.
  const T& operator*() const { return *value_; }
  const T* operator->() const { return &*value_; }
  T value_or(T other) const { return value_ ? *value_ : std::move(other); }
  const std::optional<T>& maybe() const { return value_; }

  bool operator==(const Taken&) const = default;

 private:
  std::optional<T> value_;
  State state_ = State::NeverAsked;
};

}  // namespace steep
