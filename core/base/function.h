#pragma once
/// Something to be done later.

#include <concepts>
#include <cstddef>
#include <type_traits>
#include <utility>

namespace steep {

template <class Signature>
class Function;

/// Like std::function, but copies share what was captured instead of copying it: the code for copying captures
/// would weigh 100 bytes and more of the page for each of some hundred lambdas.
template <class Out, class... In>
class Function<Out(In...)> {
 public:
  Function() = default;
  Function(std::nullptr_t) {}
  template <class Callable>
  requires(!std::same_as<std::remove_cvref_t<Callable>, Function> && std::is_invocable_r_v<Out, Callable&, In...>)
      Function(Callable callable)
      : held_(new Holds<Callable>{{1, [](Held* held) { delete static_cast<Holds<Callable>*>(held); }},
                                  std::move(callable)}),
        call_([](Held* held, In... in) -> Out {
          return static_cast<Holds<Callable>*>(held)->callable(std::forward<In>(in)...);
        }) {}
  Function(const Function& other) : held_(other.held_), call_(other.call_) {
    if (held_) ++held_->uses;
  }
  Function(Function&& other) noexcept : held_(std::exchange(other.held_, nullptr)), call_(other.call_) {}
  Function& operator=(Function other) noexcept {
    std::swap(held_, other.held_);
    std::swap(call_, other.call_);
    return *this;
  }
  ~Function() {
    if (held_ && --held_->uses == 0) held_->drop(held_);
  }

  explicit operator bool() const { return held_ != nullptr; }
  /// Only when there is something.
  Out operator()(In... in) const { return call_(held_, std::forward<In>(in)...); }

 private:
  struct Held {
    int uses;
    void (*drop)(Held*);
  };
  template <class Callable>
  struct Holds : Held {
    Callable callable;
  };

  Held* held_ = nullptr;
  Out (*call_)(Held*, In...) = nullptr;
};

}  // namespace steep
