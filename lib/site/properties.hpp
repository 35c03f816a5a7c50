// What the model says of a thing, as pairs of words that people compare.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "site/enum_words.hpp"
#include "site/site.hpp"
#include "units/print.hpp"

namespace linewright::site {

/// One thing that is said, with its value in words: "rated current", "16 A".
struct Property {
  std::string name;
  std::string value;
  friend bool operator==(const Property&, const Property&) = default;
};

/// What an element is called wherever another thing speaks of it, by its index.
using ElementNames = std::function<std::string(std::size_t)>;

/// A list of properties under way; what is not given leaves no property.
class Properties {
 public:
  Properties& add(std::string name, const std::string& value) {
    if (!value.empty()) list_.push_back({std::move(name), value});
    return *this;
  }
  Properties& add(std::string name, bool value) {
    return add(std::move(name), std::string(value ? "yes" : "no"));
  }
  Properties& add(std::string name, int value) {
    return add(std::move(name), std::to_string(value));
  }
  Properties& add(std::string name, double value) {
    constexpr int decimals = 6;
    return add(std::move(name), print_number(value, decimals));
  }
  template <class E>
    requires std::is_enum_v<E>
  Properties& add(std::string name, E value) {
    return add(std::move(name), std::string(word(value)));
  }
  template <class Q>
    requires requires(Q value) { units::to_si(value); }
  Properties& add(std::string name, Q value) {
    return add(std::move(name), print(value));
  }
  template <class T>
  Properties& add(std::string name, const std::optional<T>& value) {
    return value ? add(std::move(name), *value) : *this;
  }
  /// In the order given.
  Properties& add(std::string name, const std::vector<std::string>& values);

  std::vector<Property> take() { return std::move(list_); }

 private:
  std::vector<Property> list_;
};

/// "breaker", "battery", "load": what an element is; of a device, its kind by construction.
std::string kind_words(const Facts& facts);

/// Everything that an element's facts say. Every field is told: one that is new in the model does
/// not compile until it is told here.
std::vector<Property> properties_of(const Facts& facts, const ElementNames& names);

std::vector<Property> properties_of(const Assembly& assembly);
std::vector<Property> properties_of(const Cable& cable);
std::vector<Property> properties_of(const Permit& permit);
std::vector<Property> properties_of(const System& system);

/// The title block but for its revisions and notes.
std::vector<Property> properties_of(const Title& title);

}  // namespace linewright::site
