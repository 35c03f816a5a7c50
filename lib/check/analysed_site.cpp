#include "check/analysed_site.hpp"

namespace linewright::check {

Subject AnalysedSite::about(std::size_t index, const network::StateView* state) const {
  return {.where = element(index).where,
          .element = name(index),
          .state = state == nullptr ? std::string() : state->name()};
}

Subject AnalysedSite::about(const network::StateView& state) const {
  return {.where = state.state->where, .element = {}, .state = state.name()};
}

AnalysedSite analyse(const site::Site& site, const Profile& profile) {
  AnalysedSite analysed{
      .site = site, .profile = profile, .network = network::build(site), .states = {}};
  for (const site::State& state : site.states)
    analysed.states.push_back(network::view(analysed.network, site, state));
  return analysed;
}

}  // namespace linewright::check
