// The values that a country's rules put in place of the international ones.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::check {

/// How well a value is known.
enum class Confirmation { confirmed, partly, memory };

/// One value of a profile with where it comes from.
struct ProfileValue {
  std::string text;    ///< as in the table: "30 mA", "opened", "yes"
  std::string source;  ///< document and clause, or "from memory", or "common practice, no source"
  Confirmation status = Confirmation::memory;
};

/// A country's values over the international ones.
class Profile {
 public:
  /// Reads tables of the form `key;value;status;source`, a line each, `#` begins a comment.
  /// Later tables win over earlier ones: international first, then the country's. Fails at the
  /// first line that is not of that form.
  static Result<Profile> create(std::string name, const std::vector<std::string_view>& tables);

  const std::string& name() const { return name_; }
  /// The value with its source, or null if neither table has it.
  const ProfileValue* find(std::string_view key) const;
  /// Its text, or empty if there is none.
  std::string_view text(std::string_view key) const;
  /// True exactly for the text "yes".
  bool says_yes(std::string_view key) const { return text(key) == "yes"; }
  std::optional<Current> current(std::string_view key) const;
  std::optional<Resistance> resistance(std::string_view key) const;
  std::optional<Voltage> voltage(std::string_view key) const;
  std::optional<Time> time(std::string_view key) const;
  std::optional<Length> length(std::string_view key) const;
  std::optional<ApparentPower> apparent_power(std::string_view key) const;
  std::optional<double> number(std::string_view key) const;

 private:
  std::string name_;
  std::map<std::string, ProfileValue, std::less<>> values_;
};

}  // namespace linewright::check
