#include "network/hazard_words.hpp"

#include <cmath>

#include <fmt/core.h>

namespace linewright::network {
namespace {

std::string name(const site::Site& site, std::size_t element) {
  const site::Element& it = site.elements[element];
  if (site::facts<site::Supply>(it) != nullptr) return "the supply";
  if (site::facts<site::LoadGroup>(it) != nullptr && !it.name.empty()) return it.name;
  return it.designation;
}

std::string_view means_words(site::InterlockMeans means) {
  switch (means) {
    case site::InterlockMeans::mechanical:
      return "mechanical";
    case site::InterlockMeans::key:
      return "key";
    case site::InterlockMeans::electrical:
      return "electrical";
    case site::InterlockMeans::control:
      return "control";
    case site::InterlockMeans::unknown:
      break;
  }
  return "means not given";
}

}  // namespace

std::string words_of(HazardKind kind) {
  switch (kind) {
    case HazardKind::sources_joined:
      return "two sources joined out of step";
    case HazardKind::dead_supply_fed:
      return "the supply's side fed while it is dead";
    case HazardKind::neutral_without_bond:
      return "a live neutral without a joint to earth";
    case HazardKind::neutral_bonded_twice:
      return "a live neutral joined to earth twice";
    case HazardKind::load_without_rcd:
      return "a live circuit without an RCD that sees its fault";
    case HazardKind::unsupported_load_alive:
      return "a circuit alive that is to be dead in an outage";
  }
  return {};
}

std::string subject_words(const site::Site& site, const Hazard& hazard) {
  std::string sources;
  for (std::size_t s = 0; s < hazard.sources.size(); ++s)
    sources += (s == 0 ? "" : " and ") + name(site, hazard.sources[s]);
  if (hazard.load == site::none) return sources;
  return fmt::format("{}, fed by {}", name(site, hazard.load), sources);
}

std::string way_words(const Network& network, const site::Site& site,
                      const Refutation& refutation) {
  std::string moves;
  for (std::size_t m = 0; m < refutation.moves.size(); ++m) {
    if (m > 0) moves += m + 1 == refutation.moves.size() ? " and " : ", ";
    moves += words_of(network, site, refutation.moves[m]);
  }
  const std::string start = refutation.nearest == site::none
                                ? "everything at rest"
                                : fmt::format("'{}'", site.states[refutation.nearest].name);
  return moves.empty() ? start : fmt::format("{}, then {}", start, moves);
}

std::string not_followed_words(const site::Site& site, std::size_t element) {
  const site::Element& it = site.elements[element];
  return site::facts<site::Transformer>(it) != nullptr
             ? fmt::format("voltage passes {} both ways, and what lies behind it is not followed",
                           it.designation)
             : fmt::format(
                   "{} can be fed through another inverter; whether it passes that on is "
                   "not worked out",
                   it.designation);
}

std::string interlock_words(const site::Site& site, std::size_t interlock) {
  const site::Interlock& it = site.interlocks[interlock];
  std::string text = fmt::format("{}:", means_words(it.means));
  for (std::size_t i = 0; i < it.never_together.size(); ++i) {
    const site::PositionOf& position = it.never_together[i];
    text +=
        fmt::format("{} {}{}{} {}", i == 0 ? "" : ",", site.elements[position.element].designation,
                    position.part.empty() ? "" : " ", position.part, position.position);
  }
  return text;
}

std::string words_of(const Count& count) {
  const std::string bound = count.counted ? "" : "no more than ";
  if (count.exact) {
    std::string digits = std::to_string(*count.exact);
    for (std::size_t at = digits.size(); at > 3;) {
      at -= 3;
      digits.insert(at, ",");
    }
    return bound + digits;
  }
  const double power = std::floor(count.decimal_digits);
  return fmt::format("{}{:.1f}×10^{:.0f}", bound.empty() ? "about " : bound,
                     std::pow(10.0, count.decimal_digits - power), power);
}

}  // namespace linewright::network
