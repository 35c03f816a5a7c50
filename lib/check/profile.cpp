#include "check/profile.hpp"

#include <charconv>
#include <utility>

#include <fmt/core.h>

#include "units/read.hpp"

namespace linewright::check {
namespace {

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

std::vector<std::string_view> fields_of(std::string_view line) {
  std::vector<std::string_view> fields;
  while (fields.size() < 3) {
    const auto semicolon = line.find(';');
    if (semicolon == std::string_view::npos) break;
    fields.push_back(trimmed(line.substr(0, semicolon)));
    line.remove_prefix(semicolon + 1);
  }
  fields.push_back(trimmed(line));
  return fields;
}

std::optional<Confirmation> confirmation(std::string_view word) {
  if (word == "confirmed") return Confirmation::confirmed;
  if (word == "partly") return Confirmation::partly;
  if (word == "memory") return Confirmation::memory;
  return std::nullopt;
}

template <class T>
std::optional<T> value(Result<T> read) {
  if (!read) return std::nullopt;
  return *read;
}

}  // namespace

Result<Profile> Profile::create(std::string name, const std::vector<std::string_view>& tables) {
  Profile profile;
  profile.name_ = std::move(name);
  for (std::string_view table : tables) {
    int number = 0;
    while (!table.empty()) {
      ++number;
      const auto end = table.find('\n');
      const std::string_view line = trimmed(table.substr(0, end));
      table.remove_prefix(end == std::string_view::npos ? table.size() : end + 1);
      if (line.empty() || line.front() == '#') continue;
      const auto fields = fields_of(line);
      const auto status = fields.size() == 4 ? confirmation(fields[2]) : std::nullopt;
      if (!status || fields[0].empty() || fields[3].empty())
        return fail(fmt::format("profile '{}', line {}: expected key;value;status;source",
                                profile.name_, number));
      profile.values_[std::string(fields[0])] = {std::string(fields[1]), std::string(fields[3]),
                                                 *status};
    }
  }
  return profile;
}

const ProfileValue* Profile::find(std::string_view key) const {
  const auto found = values_.find(key);
  return found == values_.end() ? nullptr : &found->second;
}

std::string_view Profile::text(std::string_view key) const {
  const ProfileValue* found = find(key);
  return found == nullptr ? std::string_view() : std::string_view(found->text);
}

std::optional<Current> Profile::current(std::string_view key) const {
  return value(read_quantity<Current>(text(key)));
}
std::optional<Resistance> Profile::resistance(std::string_view key) const {
  return value(read_quantity<Resistance>(text(key)));
}
std::optional<Voltage> Profile::voltage(std::string_view key) const {
  return value(read_quantity<Voltage>(text(key)));
}
std::optional<Time> Profile::time(std::string_view key) const {
  return value(read_quantity<Time>(text(key)));
}
std::optional<Length> Profile::length(std::string_view key) const {
  return value(read_quantity<Length>(text(key)));
}
std::optional<ApparentPower> Profile::apparent_power(std::string_view key) const {
  return value(read_quantity<ApparentPower>(text(key)));
}

std::optional<double> Profile::number(std::string_view key) const {
  const std::string_view digits = text(key);
  double number = 0.0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
  if (error != std::errc() || end != digits.data() + digits.size() || digits.empty())
    return std::nullopt;
  return number;
}

}  // namespace linewright::check
