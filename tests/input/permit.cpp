// What the reader makes of the keys that authorities ask for.
#include <string>

#include <catch2/catch.hpp>

#include "support/site_from.hpp"
#include "units/kinds.hpp"

using namespace linewright;
using namespace linewright::unit;
using Catch::Matchers::Contains;

namespace {

const std::string plant = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TT}
earthing:
  conductor: 16 mm²
  bonding: {water pipe: 10 mm², gas pipe: }
  electrodes: {-XE1: {resistance: 38 ohm, type: rod 2.5 m, measured: 35 ohm}}
generators:
  -G2: {model: Sample 15, excitation: permanent magnet, parallel: never}
inverters:
  -T1: {kind: hybrid, model: Sample 10, dc side: floating, protection: {detects island by: frequency shift},
        battery: {id: -B1, model: Sample B, units: 3}, pv: {id: -E1, model: Sample P}}
boards:
  +A1:
    indicator: yes
    feed: [supply, {id: -P1, device: meter, current transformers: 250/5 A on L1 L2 L3}, -Q10 switch-disconnector 63 A 4P]
)";

site::Permit permit_of(const std::string& words) {
  return tests::site_from(plant + "permit:\n" + words).permit;
}

std::string mistakes_of(const std::string& words) {
  return tests::mistakes_in(plant + "permit:\n" + words);
}

}  // namespace

TEST_CASE("permit: what is said of equipment is kept with it") {
  const site::Site site = tests::site_from(plant);
  const auto at = [&](const char* name) -> const site::Element& {
    return site.elements.at(site.find(name));
  };
  const auto* terminal = site::facts<site::MainEarthingTerminal>(at("-XE"));
  CHECK(terminal->earthing_conductor->in(mm2) == Approx(16.0));
  REQUIRE(terminal->bonding.size() == 2);
  CHECK(terminal->bonding[0].to == "water pipe");
  CHECK(terminal->bonding[0].cross_section->in(mm2) == Approx(10.0));
  CHECK_FALSE(terminal->bonding[1].cross_section.has_value());
  const auto* electrode = site::facts<site::Electrode>(at("-XE1"));
  CHECK(electrode->type == "rod 2.5 m");
  CHECK(electrode->measured->in(ohm) == Approx(35.0));
  const auto* generator = site::facts<site::Generator>(at("-G2"));
  CHECK(generator->model == "Sample 15");
  CHECK(generator->excitation == "permanent magnet");
  CHECK(generator->parallel == site::ParallelRun::never);
  const auto* inverter = site::facts<site::Inverter>(at("-T1"));
  CHECK(inverter->model == "Sample 10");
  CHECK(inverter->dc_earthing == site::DcEarthing::floating);
  CHECK(inverter->protection->island_method == "frequency shift");
  CHECK(site::facts<site::Battery>(at("-B1"))->units == 3);
  CHECK(site::facts<site::Battery>(at("-B1"))->model == "Sample B");
  CHECK(site::facts<site::PvArray>(at("-E1"))->model == "Sample P");
  CHECK(site::facts<site::Meter>(at("-P1"))->current_transformers == "250/5 A on L1 L2 L3");
  CHECK(site.assemblies.front().indicator == true);
}

TEST_CASE("permit: what is said of the whole site is read key by key") {
  const site::Permit permit = permit_of(R"(
  customer: Sample family
  property: Parcel 7
  installer: {company: Sample Electric, registration: S-1}
  designer licence: S-2
  standards: [IEC 60364, EN 50549-1]
  contracted demand: 36 kVA
  ownership boundary: P1
  metering concept: MC 2
  export limit: {limit: 5 kW, by: -P1}
  isolation point: {at: -Q10, place: meter cupboard}
  emergency off: {at: -Q10, opens: everything, place: door}
  upstream coordination: selective
  operation: [first, second]
  clearances: wide
)");
  CHECK(permit.customer == "Sample family");
  CHECK(permit.property == "Parcel 7");
  CHECK(permit.installer == "Sample Electric");
  CHECK(permit.installer_registration == "S-1");
  CHECK(permit.designer_licence == "S-2");
  CHECK(permit.standards == std::vector<std::string>{"IEC 60364", "EN 50549-1"});
  CHECK(permit.contracted_demand == "36 kVA");
  CHECK(permit.ownership_boundary == "-P1");
  CHECK(permit.metering_concept == "MC 2");
  CHECK(permit.export_limit->limit->in(kilowatt) == Approx(5.0));
  CHECK(permit.export_limit->by == "-P1");
  CHECK(permit.isolation_point->at == "-Q10");
  CHECK(permit.isolation_point->place == "meter cupboard");
  CHECK(permit.emergency->opens == "everything");
  CHECK(permit.emergency->place == "door");
  CHECK(permit.upstream_coordination == "selective");
  CHECK(permit.operation.size() == 2);
  CHECK(permit.clearances == std::vector<std::string>{"wide"});
}

TEST_CASE("permit: none and short forms") {
  CHECK(permit_of("  export limit: none").export_limit->none);
  CHECK(permit_of("  export limit: 3 kW").export_limit->limit->in(kilowatt) == Approx(3.0));
  CHECK(permit_of("  emergency off: none").no_emergency);
  CHECK(permit_of("  emergency off: -Q10").emergency->at == "-Q10");
  CHECK(permit_of("  installer: Sample Electric").installer == "Sample Electric");
  CHECK(permit_of("  contracted demand: 60 A").contracted_demand == "60 A");
}

TEST_CASE("permit: what does not exist or is no demand is a mistake at its place") {
  CHECK_THAT(mistakes_of("  ownership boundary: -P9"), Contains("'-P9'"));
  CHECK_THAT(mistakes_of("  isolation point: {at: -Q99}"), Contains("'-Q99'"));
  CHECK_THAT(mistakes_of("  contracted demand: 36"), Contains("neither a power nor a current"));
  CHECK_THAT(mistakes_of("  colour: blue"), Contains("'permit' has no key 'colour'"));
}
