#include "documents/figures_words.hpp"

#include <fmt/core.h>

#include "units/print.hpp"

namespace linewright::documents {
namespace {

using figures::What;

double plain(const figures::Amount& amount) {
  if (const auto* current = std::get_if<Current>(&amount)) return current->si;
  return std::get<double>(amount);
}

}  // namespace

std::string words_of(What what) {
  switch (what) {
    case What::current:
      return "current";
    case What::neutral_current:
      return "current in the neutral";
    case What::feed_current:
      return "current of sources feeding back";
    case What::protection:
      return "Ib ≤ In";
    case What::capacity:
      return "In ≤ Iz";
    case What::operates_in_time:
      return "I2 ≤ 1.45 Iz";
    case What::drop:
      return "voltage drop";
    case What::rise:
      return "voltage rise";
  }
  return {};
}

std::string subject_of(const site::Site& site, const figures::About& about) {
  if (about.run != site::none) return site.runs[about.run].designation;
  const site::Element& element = site.elements[about.element];
  return element.name.empty() ? element.designation : element.designation + " " + element.name;
}

std::string words_of(const std::optional<figures::Amount>& amount) {
  if (!amount) return {};
  // What is left of currents that cancel each other is no current.
  constexpr Current least = 1.0 * unit::milliampere;
  if (const auto* current = std::get_if<Current>(&*amount))
    return *current < least ? "0 A" : print_rounded(*current, 3);
  return print_number(100.0 * std::get<double>(*amount), 2) + " %";
}

std::string margin_of(const figures::Figure& figure) {
  if (!figure.value || !figure.limit) return {};
  if (const auto* value = std::get_if<Current>(&*figure.value)) {
    const double left = (std::get<Current>(*figure.limit) - *value).in(unit::ampere);
    return print_number(left, 1) + " A";
  }
  return print_number(100.0 * (plain(*figure.limit) - plain(*figure.value)), 2) + " %";
}

std::string verdict_of(const figures::Figure& figure) {
  switch (figure.holds) {
    case electrical::Judgement::holds:
      return "holds";
    case electrical::Judgement::fails:
      return "does not hold";
    case electrical::Judgement::unknown:
      break;
  }
  const bool lacks = !figure.missing.empty() || !figure.why_not.empty();
  return figure.limit || lacks ? "not known" : "";
}

std::string lack_of(const figures::Figure& figure) {
  std::string text = figure.why_not;
  constexpr std::size_t most = 3;
  for (std::size_t i = 0; i < figure.missing.size() && i < most; ++i) {
    const figures::Missing& one = figure.missing[i];
    text += fmt::format("{}'{}' of {}", text.empty() ? "" : ", ", one.key, one.of);
  }
  if (figure.missing.size() > most)
    text += fmt::format(" and {} more", figure.missing.size() - most);
  if (!figure.missing.empty()) text += figure.missing.size() == 1 ? " is missing" : " are missing";
  return text;
}

double strain_of(const figures::Figure& figure) {
  if (!figure.value || !figure.limit || plain(*figure.limit) == 0.0) return 0.0;
  return plain(*figure.value) / plain(*figure.limit);
}

}  // namespace linewright::documents
