// Visits a variant with one function for each of its kinds.
#pragma once

namespace linewright::diagram {

/// A set of functions as one, for std::visit.
template <class... Kinds>
struct Overloaded : Kinds... {
  using Kinds::operator()...;
};
template <class... Kinds>
Overloaded(Kinds...) -> Overloaded<Kinds...>;

}  // namespace linewright::diagram
