// An answer, or why there is none: errors are values.
#pragma once

#include <string>
#include <utility>

#include <tl/expected.hpp>

namespace linewright {

/// Why a function could not answer, in words for the user.
struct Failure {
  std::string message;

  friend bool operator==(const Failure&, const Failure&) = default;
};

/// What a function that may be unable to answer returns.
template <class T>
using Result = tl::expected<T, Failure>;

/// The failing side of any Result.
inline tl::unexpected<Failure> fail(std::string message) {
  return tl::unexpected<Failure>(Failure{std::move(message)});
}

}  // namespace linewright
