#include "network/ways.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "network/state_view.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

/// A board fed by two cables in parallel behind a main switch, the neutral in one of them only.
const std::string twin_cables = R"(site: {name: Twin}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
busbars: {-WB1: 63 A}
boards:
  +A1:
    feed: [-WB1, -W4 3×10 mm² 2 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N, cable: -W5 3×2.5 mm² 20 m, use: sockets}
devices:
  -Q1: switch-disconnector 63 A 2P
chains:
  - [supply, -W1 3×10 mm² 3 m, -Q1, -F8 C40 2P, -W2 3×10 mm² 3 m, -WB1]
  - [-Q1, -F9 C40 1P, -W3 2×10 mm² (L1 PE) 3 m, -WB1]
states:
  grid: {}
  off: {-Q1: open, running: [supply]}
)";

/// What lies between the supply and the one load in a named state.
struct Asked {
  site::Site site;
  network::Passage lines;
  network::Passage neutral;

  std::string devices(const std::vector<std::size_t>& which) const {
    std::string names;
    for (const std::size_t e : which)
      names += site.elements[e].designation + " ";
    return names;
  }
  std::string runs(const std::vector<std::size_t>& which) const {
    std::string names;
    for (const std::size_t r : which)
      if (site.runs[r].cable) names += site.runs[r].designation + " ";
    return names;
  }
};

/// Parallel ways have no order among them: in the order of the file.
std::vector<std::size_t> sorted(std::vector<std::size_t> list) {
  std::ranges::sort(list);
  return list;
}

Asked ask(const std::string& yaml, std::size_t state) {
  Asked asked{.site = site_from(yaml), .lines = {}, .neutral = {}};
  const network::Network network = network::build(asked.site);
  const auto positions = network::positions_of(network, asked.site, asked.site.states[state]);
  const network::WaysFrom ways(network, asked.site, positions, network.sources.front());
  for (std::size_t e = 0; e < asked.site.elements.size(); ++e)
    if (site::facts<site::LoadGroup>(asked.site.elements[e]) != nullptr) {
      asked.lines = ways.lines_to(e, 0);
      asked.neutral = ways.neutral_to(e, 0);
    }
  return asked;
}

TEST_CASE("ways: devices and cables on every way come from the source on") {
  const Asked asked = ask(twin_cables, 0);
  REQUIRE(asked.lines.joined);
  CHECK(asked.devices(asked.lines.devices) == "-Q1 -F1 ");
  CHECK(asked.runs(asked.lines.runs) == "-W1 -W4 -W5 ");
}

TEST_CASE("ways: what only some ways pass is kept apart, for line and neutral each") {
  const Asked asked = ask(twin_cables, 0);
  CHECK(asked.runs(sorted(asked.lines.detour_runs)) == "-W2 -W3 ");
  CHECK(asked.devices(sorted(asked.lines.detour_devices)) == "-F8 -F9 ");
  CHECK(asked.runs(asked.neutral.runs) == "-W1 -W2 -W4 -W5 ");
  CHECK(asked.neutral.detour_runs.empty());
  const std::size_t f8 = asked.site.find("-F8");
  CHECK(asked.lines.may_pass(f8));
  CHECK_FALSE(asked.lines.may_pass(asked.site.find("-WB1")));
}

TEST_CASE("ways: behind an open switch nothing is joined") {
  const Asked asked = ask(twin_cables, 1);
  CHECK_FALSE(asked.lines.joined);
  CHECK_FALSE(asked.neutral.joined);
}

TEST_CASE("ways: a source point is found by its element, and nothing else is one") {
  const site::Site site = site_from(twin_cables);
  const network::Network network = network::build(site);
  REQUIRE(network.sources.size() == 1);
  CHECK(network::source_point(network, network.sources.front().element) ==
        &network.sources.front());
  CHECK(network::source_point(network, site.find("-Q1")) == nullptr);
}

}  // namespace
}  // namespace linewright::tests
