// Circuits and inverters have a protective conductor that leads to the main earthing terminal.
//
// Speaks of circuits and of inverters; an inverter with a neutral-earth contact of its own may
// stand on an electrode of its own. Frames of generators are left to
// generator-with-switched-neutral and generator-with-common-neutral; a switch in the protective
// conductor to never-switch-protective-conductor; a charge point on an electrode of its own to
// ev/broken-pen and ev/no-simultaneous-reach-of-two-earths. What stands on one protective conductor
// that leads nowhere is one finding.
#include <algorithm>
#include <map>
#include <vector>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using site::Conductor;

/// Whether touching the element while it is faulty is safe without a protective conductor.
bool needs_none(const AnalysedSite& site, std::size_t element) {
  const auto* load = site::facts<site::LoadGroup>(site.element(element));
  return load != nullptr && (load->class_two == true || load->use == site::Use::separated ||
                             (load->use == site::Use::ev && load->own_electrode == true));
}

bool is_asked(const AnalysedSite& site, std::size_t element) {
  return site::facts<site::LoadGroup>(site.element(element)) != nullptr ||
         site::facts<site::Inverter>(site.element(element)) != nullptr;
}

/// Whether the stretch of protective conductor has an electrode on it.
bool has_electrode(const AnalysedSite& site, const std::vector<std::uint32_t>& stretch,
                   std::uint32_t which) {
  return std::ranges::any_of(site.network.edges, [&](const network::Edge& edge) {
    return edge.kind == network::EdgeKind::earth &&
           (stretch[edge.a] == which || stretch[edge.b] == which);
  });
}

/// Whether its protective conductor serves it as well as one to the main earthing terminal.
bool stands_on_its_own(const AnalysedSite& site, std::size_t element,
                       const std::vector<std::uint32_t>& stretch, std::uint32_t which) {
  return site::facts<site::Inverter>(site.element(element)) != nullptr &&
         network::bond_edge(site.network, element) != nullptr &&
         has_electrode(site, stretch, which);
}

std::string called(const AnalysedSite& site, std::size_t element) {
  return fmt::format("'{}'", site::facts<site::LoadGroup>(site.element(element)) != nullptr
                                 ? check::circuit_name(site, element)
                                 : site.name(element));
}

Verdict unearthed(const AnalysedSite& site, Subject subject, const std::string& whom,
                  const std::vector<std::size_t>& elements) {
  Verdict verdict =
      broken(std::move(subject),
             fmt::format("{} has no protective conductor to the main earthing terminal", whom),
             "lead a PE in its cable (3 or 5 cores), or enter 'earth' where it runs apart");
  for (const std::size_t element : elements)
    verdict.notes.push_back(
        {site.element(element).where, fmt::format("{} is unearthed", called(site, element))});
  return verdict;
}

/// The board whose busbar is on that stretch of protective conductor, or none.
std::size_t board_of(const AnalysedSite& site, const std::vector<std::uint32_t>& stretch,
                     std::uint32_t which) {
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const std::uint32_t pe = site.network.node(e, 0, Conductor::pe);
    if (site::facts<site::Busbar>(site.element(e)) != nullptr && pe != network::no_node &&
        stretch[pe] == which && site.element(e).assembly != site::none)
      return site.element(e).assembly;
  }
  return site::none;
}

Verdict judge_stretch(const AnalysedSite& site, const std::vector<std::uint32_t>& stretch,
                      std::uint32_t which, const std::vector<std::size_t>& elements) {
  const std::size_t board = board_of(site, stretch, which);
  if (board == site::none)
    return unearthed(site, site.about(elements.front()), called(site, elements.front()), {});
  const site::Assembly& it = site.site.assemblies[board];
  return unearthed(site, {it.where, it.designation, {}}, fmt::format("'{}'", it.designation),
                   elements);
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::vector<std::uint32_t> stretch = network::protective_stretches(site.network, site.site);
  const std::uint32_t main = network::main_terminal_node(site.network, site.site);
  if (main == network::no_node) return verdicts;
  std::map<std::uint32_t, std::vector<std::size_t>> lost;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    if (!is_asked(site, e)) continue;
    const std::uint32_t pe = site.network.node(e, 0, Conductor::pe);
    if (needs_none(site, e))
      verdicts.push_back(not_relevant(site.about(e)));
    else if (pe == network::no_node)
      verdicts.push_back(unearthed(site, site.about(e), called(site, e), {}));
    else if (stretch[pe] == stretch[main] || stands_on_its_own(site, e, stretch, stretch[pe]))
      verdicts.push_back(holds(site.about(e)));
    else
      lost[stretch[pe]].push_back(e);
  }
  for (const auto& [which, elements] : lost)
    verdicts.push_back(judge_stretch(site, stretch, which, elements));
  return verdicts;
}

}  // namespace

extern const check::Rule one_earthing_terminal{
    .id = "earthing/one-earthing-terminal",
    .severity = Severity::danger,
    .must_hold =
        "Every circuit and every inverter has a protective conductor that leads to the "
        "main earthing terminal.",
    .why =
        "Metalwork without it becomes live at the first fault, and neither breaker nor RCD opens "
        "until somebody touches it; two earths apart differ by the fault voltage.",
    .clauses = {"IEC 60364-5-54 542.4", "IEC 60364-4-41 411.3.1.2", "BS 7671 826.1.1.2.1"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# The sockets are wired with two cores.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A 6 kA, cable: 2×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)",
    .check = check_site,
};

}  // namespace linewright::rules
