// Keys about changing over reach the model.
#include <catch2/catch.hpp>

#include "network/network.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

using namespace unit;

constexpr const char* text = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, rotation: clockwise}
earthing:
  links: {-X5: {at: A1, contact: yes, proved by: [-Q1], closes within: 80 ms}}
generators:
  -G2: {power: 5 kVA, phases: 1, rotation: anticlockwise, lines tied: yes}
inverters:
  -T1:
    kind: pv
    ac coupled up to: 9 kVA
    protection: {certificate: TC-1, undervoltage: 184 V within 2.5 s, overfrequency: 52 Hz, reconnects after: 20 s, external relay: no}
devices:
  -Q1:
    device: changeover I-0-II 63 A 4P
    withstands: 10 kA
    closed transition: {synchronism check: yes, overlap: 100 ms, distributor consent: no}
    automatic: {priority: [supply, -G2], drops out: 196 V, picks up: 210 V, returns after: 5 min}
boards:
  +A1:
    feed: [-Q1, -W1 5×10 mm² 5 m carries 57 A crossed L1 L3]
    circuits: [{id: -F1, device: C16 4P, cable: 5×2.5 mm² 5 m, starts after: 20 s}]
chains:
  - [supply, -Q1:I]
  - [-T1:ac, -W2 5×4 mm² 5 m, A1]
)";

const site::Device& device(const site::Site& site) {
  return *site::facts<site::Device>(site.elements[site.find("-Q1")]);
}

TEST_CASE("read: what a transfer device says of overlapping, choosing and withstanding") {
  const site::Site site = site_from(text);
  const site::Device& q1 = device(site);
  CHECK(q1.withstand->in(ampere) == Approx(10'000));
  CHECK(q1.closed_transition->synchronism_check == true);
  CHECK(q1.closed_transition->overlap->in(second) == Approx(0.1));
  CHECK(q1.closed_transition->distributor_consent == false);
  CHECK(q1.automatic->priority == std::vector<std::string>{"supply", "-G2"});
  CHECK(q1.automatic->drops_out->in(volt) == Approx(196));
  CHECK(q1.automatic->picks_up->in(volt) == Approx(210));
  CHECK(q1.automatic->returns_after->in(second) == Approx(300));
}

TEST_CASE("read: order of lines, interface protection, times") {
  const site::Site site = site_from(text);
  const auto& supply = *site::facts<site::Supply>(site.elements[site.find("-X0")]);
  CHECK(supply.rotation == site::Rotation::clockwise);
  const auto& set = *site::facts<site::Generator>(site.elements[site.find("-G2")]);
  CHECK(set.rotation == site::Rotation::anticlockwise);
  CHECK(set.lines_tied);
  const auto& inverter = *site::facts<site::Inverter>(site.elements[site.find("-T1")]);
  CHECK(inverter.protection->certificate == "TC-1");
  CHECK(inverter.protection->undervoltage.at->in(volt) == Approx(184));
  CHECK(inverter.protection->undervoltage.within->in(second) == Approx(2.5));
  CHECK_FALSE(inverter.protection->overvoltage.at.has_value());
  CHECK_FALSE(inverter.protection->overfrequency.within.has_value());
  CHECK(inverter.protection->reconnects_after->in(second) == Approx(20));
  CHECK(inverter.protection->external_relay == false);
  CHECK(inverter.ac_coupled.has_value());
  const auto& link = *site::facts<site::Bond>(site.elements[site.find("-X5")]);
  CHECK(link.closes_within->in(second) == Approx(0.08));
}

TEST_CASE("read: a cable that crosses two lines joins each to the other's name") {
  const site::Site site = site_from(text);
  const auto run = std::find_if(site.runs.begin(), site.runs.end(),
                                [](const site::Run& each) { return each.designation == "-W1"; });
  REQUIRE(run != site.runs.end());
  CHECK(run->cable->carries->in(ampere) == Approx(57));
  using site::Conductor;
  CHECK(site::arrives_as(*run, Conductor::l1) == Conductor::l3);
  CHECK(site::arrives_as(*run, Conductor::l2) == Conductor::l2);
  CHECK(site::arrives_as(*run, Conductor::n) == Conductor::n);
  const network::Network network = network::build(site);
  const std::uint32_t there = network.node(run->to.element, run->to.terminal, Conductor::l3);
  const std::uint32_t here = network.node(run->from.element, run->from.terminal, Conductor::l1);
  CHECK(std::any_of(network.edges.begin(), network.edges.end(), [&](const network::Edge& edge) {
    return (edge.a == here && edge.b == there) || (edge.a == there && edge.b == here);
  }));
}

TEST_CASE("read: mistakes in these keys are told at their place") {
  CHECK(mistakes_in("supply: {system: 1/N/PE 230 V 50 Hz, rotation: sideways}\n").find("1:48") !=
        std::string::npos);
  CHECK(mistakes_in("supply: {system: 1/N/PE 230 V 50 Hz}\n"
                    "boards: {+A1: {feed: [supply, -W1 3×6 mm² crossed L1]}}\n")
            .find("'crossed' without two lines") != std::string::npos);
}

}  // namespace
}  // namespace linewright::tests
