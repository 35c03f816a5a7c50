#include "figures_of_site.hpp"

#include "documents/figures_account.hpp"
#include "figures/figures.hpp"
#include "network/network.hpp"
#include "network/state_view.hpp"

namespace linewright {

Result<std::string> figures_of_site(const site::Site& site, const FiguresOptions& options) {
  const network::Network network = network::build(site);
  std::vector<network::StateView> states;
  for (const site::State& state : site.states)
    states.push_back(network::view(network, site, state));
  std::vector<figures::Figure> all = figures::figures_of(site, network, states);
  const bool one = !options.element.empty();
  if (one) {
    all = documents::figures_about(site, all, options.element);
    if (all.empty()) return fail("no figure about '" + options.element + "'");
  }
  switch (options.format) {
    case FiguresFormat::csv:
      return documents::figures_csv(site, all);
    case FiguresFormat::json:
      return documents::figures_json(site, all);
    case FiguresFormat::text:
      break;
  }
  return one ? documents::figures_worked(site, all) : documents::figures_text(site, all);
}

}  // namespace linewright
