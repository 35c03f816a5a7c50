#include "documents/state_words.hpp"

#include <algorithm>

namespace linewright::documents {

std::vector<std::size_t> moving_switches(const network::Network& network,
                                         const std::vector<network::StateView>& states,
                                         GridContacts contacts) {
  std::vector<std::size_t> moving;
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    const auto differs = [&](const network::StateView& view) {
      return view.positions.of[s] != states.front().positions.of[s];
    };
    const bool wanted = contacts == GridContacts::shown || network.switches[s].part != "transfer";
    if (wanted && std::ranges::any_of(states, differs)) moving.push_back(s);
  }
  return moving;
}

std::string switch_name(const site::Site& site, const network::Switch& device) {
  return site.elements[device.element].designation + (device.part.empty() ? "" : ":" + device.part);
}

std::string source_name(const site::Site& site, std::size_t element) {
  const site::Element& source = site.elements[element];
  return site::facts<site::Supply>(source) != nullptr ? "supply" : source.designation;
}

std::string_view earthing_mark(const site::Supply& supply) {
  return supply.earthing ? site::mark(*supply.earthing) : "?";
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const auto first = std::ranges::find(words, words[i]);
    if (first - words.begin() < static_cast<std::ptrdiff_t>(i)) continue;
    text += (text.empty() ? "" : " + ") + words[i];
  }
  return text;
}

}  // namespace linewright::documents
