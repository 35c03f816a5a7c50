// The proof against plain enumeration: two ways that share the plain evaluator of one situation
// and nothing of the search.
#include "network/proof.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include <catch2/catch.hpp>

#include "network/enumerate.hpp"
#include "support/random_site.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

using network::Hazard;
using network::HazardKind;
using network::Outcome;

// The instrumented build is ten times slower: it looks at every twentieth site.
#ifdef __SANITIZE_ADDRESS__
constexpr unsigned stride = 20;
#else
constexpr unsigned stride = 1;
#endif

/// What looking at every situation says of one kind of hazard.
struct Seen {
  bool surely = false;
  bool perhaps = false;
  std::size_t fewest = 1000;  ///< departures of a sure one from the nearest named state
};

network::HazardScope scope_of(const site::Site& site) {
  network::HazardScope scope;
  std::vector<std::size_t> rcds;
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.elements[e]);
    if (device != nullptr && device->residual) rcds.push_back(e);
  }
  const auto accepted = std::make_shared<const std::vector<std::size_t>>(std::move(rcds));
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<site::LoadGroup>(site.elements[e]) != nullptr) {
      scope.loads_with_rcd.push_back({e, accepted});
      if (e % 2 == 0) scope.loads_not_in_outage.push_back(e);
    }
  return scope;
}

std::map<HazardKind, Seen> look_at_all(const network::Network& network, const site::Site& site,
                                       const network::HazardScope& scope) {
  const auto movement = network::movement_of(network, site);
  std::vector<network::Situation> named;
  for (const site::State& state : site.states)
    named.push_back(network::situation_of(network, site, state));
  std::map<HazardKind, Seen> seen;
  network::each_situation(network, site, movement, [&](const network::Situation& situation) {
    std::size_t departures = 1000;
    for (const auto& start : named)
      departures =
          std::min(departures, network::moves_between(network, movement, start, situation).size());
    for (const Hazard& hazard : network::hazards_in(network, site, situation, scope)) {
      Seen& it = seen[hazard.kind];
      it.perhaps = true;
      if (!hazard.sure) continue;
      it.surely = true;
      it.fewest = std::min(it.fewest, departures);
    }
  });
  return seen;
}

bool shows(const network::Network& network, const site::Site& site,
           const network::HazardScope& scope, const network::Refutation& refutation) {
  const auto found = network::hazards_in(network, site, refutation.situation, scope);
  return std::ranges::any_of(found, [&](const Hazard& hazard) {
    return hazard.sure && network::same_subject(hazard, refutation.hazard);
  });
}

void compare(const site::Site& site, unsigned seed) {
  const network::Network network = network::build(site);
  const auto scope = scope_of(site);
  const auto seen = look_at_all(network, site, scope);
  const auto certificate = network::prove(network, site, scope);
  for (const network::HazardVerdict& verdict : certificate.verdicts) {
    const auto found = seen.find(verdict.kind);
    const Seen plain = found == seen.end() ? Seen{} : found->second;
    INFO("seed " << seed << ", hazard " << static_cast<int>(verdict.kind));
    CHECK((verdict.outcome == Outcome::refuted) == plain.surely);
    // A second joint that may be there may blind an RCD: nothing is impossible for RCDs then.
    const auto twice = std::ranges::find(certificate.verdicts, HazardKind::neutral_bonded_twice,
                                         &network::HazardVerdict::kind);
    const bool may_blind =
        verdict.kind == HazardKind::load_without_rcd && !twice->undecided.empty();
    if (!plain.perhaps && !may_blind) CHECK(verdict.outcome != Outcome::open);
    if (may_blind) CHECK(verdict.outcome != Outcome::proved);
    if (!plain.surely && plain.perhaps) CHECK(verdict.outcome == Outcome::open);
    for (const network::Refutation& refutation : verdict.refutations) {
      CHECK(shows(network, site, scope, refutation));
      CHECK(network::forbidden_by(certificate.movement, refutation.situation) == site::none);
      CHECK(network::lasts(network, certificate.movement, refutation.situation));
    }
    if (plain.surely && !verdict.refutations.empty())
      CHECK(verdict.refutations.front().moves.size() == plain.fewest);
  }
}

void compare_all(unsigned first, unsigned last) {
  for (unsigned seed = first; seed <= last; seed += stride)
    compare(random_site(seed), seed);
}

TEST_CASE("proof: agrees with looking at every situation of sites 1 to 2500", "[proof]") {
  compare_all(1, 2500);
}

TEST_CASE("proof: agrees with looking at every situation of sites 2501 to 5000", "[proof]") {
  compare_all(2501, 5000);
}

TEST_CASE("proof: agrees with looking at every situation of sites 5001 to 7500", "[proof]") {
  compare_all(5001, 7500);
}

TEST_CASE("proof: agrees with looking at every situation of sites 7501 to 10000", "[proof]") {
  compare_all(7501, 10000);
}

TEST_CASE("proof: agrees with looking at every situation of sites with three lines", "[proof]") {
  for (unsigned seed = 1; seed <= 2500; seed += stride)
    compare(random_site_of_three_lines(seed), seed);
}

/// Designations along the way of the only refutation of a kind.
std::vector<std::string> passed_by_the_one_way(const network::Network& network,
                                               const site::Site& site,
                                               const network::Certificate& certificate,
                                               HazardKind kind) {
  const auto verdict = std::ranges::find(certificate.verdicts, kind, &network::HazardVerdict::kind);
  REQUIRE(verdict != certificate.verdicts.end());
  REQUIRE(verdict->refutations.size() == 1);
  std::vector<std::string> passed;
  for (const std::uint32_t edge : verdict->refutations.front().path)
    if (const std::size_t element = network.edges[edge].element; element != site::none)
      passed.push_back(site.elements[element].designation);
  return passed;
}

TEST_CASE("proof: the way shown of a circuit without RCD leads past the RCD", "[proof]") {
  // A tie -Q7 around the RCD -F10; both closed.
  const site::Site site = site_from(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A1, -F10 RCD 63 A 2P 30 mA type A, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 2P 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
chains:
  - [A1, -Q7 switch-disconnector 63 A 2P normally open, -W5 3×10 mm² 5 m, A3]
)");
  const network::Network network = network::build(site);
  const auto certificate = network::prove(network, site, scope_of(site));
  const auto passed =
      passed_by_the_one_way(network, site, certificate, HazardKind::load_without_rcd);
  CHECK(std::ranges::count(passed, "-Q7") == 1);
  CHECK(std::ranges::count(passed, "-F10") == 0);
}

TEST_CASE("proof: the way two sources meet out of step leads past the contact in step", "[proof]") {
  // A tie -Q5 around an inverter that passes the supply through.
  const site::Site site = site_from(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, bond: none}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A4: {service: backup, feed: [-T1:backup, -W4 3×10 mm² 5 m, -Q4 switch-disconnector 63 A 2P]}
chains:
  - [A1, -F2 C32 2P two-way, -W2 3×6 mm² 3 m, -T1:ac]
  - [A1, -Q5 switch-disconnector 63 A 2P normally open, -W5 3×6 mm² 3 m, A4]
states:
  grid: {}
)");
  const network::Network network = network::build(site);
  const auto certificate = network::prove(network, site, scope_of(site));
  const auto passed = passed_by_the_one_way(network, site, certificate, HazardKind::sources_joined);
  CHECK(std::ranges::count(passed, "-Q5") == 1);
  CHECK(std::ranges::count(passed, "-F2") == 0);
}

/// Two hybrid inverters; where the grid side of the second one hangs.
std::string two_hybrids(std::string_view grid_side_of_second) {
  return R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, bond: closes in island}
  -T2: {kind: hybrid, backup side: yes, power: 3 kVA, bond: always closed}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    service: backup
    feed: [-T1:backup, -W3 3×10 mm² 5 m]
  +A4:
    service: backup
    feed: [-T2:backup, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 2P 30 mA type A 6 kA, cable: 3×2.5 mm² 20 m}
chains:
  - [A1, -F21 C32 2P two-way, -W21 3×6 mm² 3 m, -T1:ac]
  - [)" + std::string(grid_side_of_second) +
         R"(, -F22 C32 2P two-way, -W22 3×6 mm² 3 m, -T2:ac]
states:
  grid: {running: [supply, -T1, -T2]}
  island: {running: [-T1, -T2]}
)";
}

TEST_CASE("proof: nothing is impossible where an inverter hangs behind another one", "[proof]") {
  const site::Site in_row = site_from(two_hybrids("A3"));
  const network::Network network = network::build(in_row);
  for (const auto& verdict : network::prove(network, in_row, scope_of(in_row)).verdicts) {
    CHECK(verdict.outcome != network::Outcome::proved);
    REQUIRE(verdict.not_followed.size() == 1);
    CHECK(in_row.elements[verdict.not_followed.front()].designation == "-T2");
  }
  const site::Site side_by_side = site_from(two_hybrids("A1"));
  const network::Network beside = network::build(side_by_side);
  const auto verdicts = network::prove(beside, side_by_side, scope_of(side_by_side)).verdicts;
  CHECK(std::ranges::all_of(verdicts, [](const auto& it) { return it.not_followed.empty(); }));
  CHECK(std::ranges::count(verdicts, network::Outcome::proved, &network::HazardVerdict::outcome) >
        0);
}

TEST_CASE("proof: an unknown joint behind the only RCD leaves open whether it sees", "[proof]") {
  const site::Site site = site_from(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  links:
    -X5: {at: A6, contact: yes, rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A6:
    feed: [A1, -W8 3×6 mm² 9 m, -F8 RCD 40 A 2P 30 mA type A]
    circuits:
      - {id: -F61, name: Sockets, device: B16 2P, cable: 3×2.5 mm² 20 m, use: sockets}
)");
  const network::Network network = network::build(site);
  const auto certificate = network::prove(network, site, scope_of(site));
  const auto outcome = [&](HazardKind kind) {
    const auto found = std::ranges::find(certificate.verdicts, kind, &network::HazardVerdict::kind);
    REQUIRE(found != certificate.verdicts.end());
    return found->outcome;
  };
  CHECK(outcome(HazardKind::neutral_bonded_twice) == network::Outcome::open);
  CHECK(outcome(HazardKind::load_without_rcd) == network::Outcome::open);
}

}  // namespace
}  // namespace linewright::tests
