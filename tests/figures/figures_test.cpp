// Figures of small sites against arithmetic that is shown.
#include "figures/figures.hpp"

#include <optional>
#include <string>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

using electrical::Judgement;
using figures::Figure;
using figures::What;

/// A house of one circuit behind a meter tail; each piece can be replaced.
struct House {
  std::string system = "1/N/PE 230 V 50 Hz";
  std::string tail = "-W1 3×16 mm² Cu 10 m PVC carries 76 A";
  std::string circuit =
      "{id: -F11, device: B16 1P+N, cable: -W11 3×2.5 mm² Cu 20 m PVC carries 27 A, load: 3 kW}";

  std::string yaml() const {
    return fmt::format(
        "supply: {{system: {}, earthing: TN-S, fuse: 63 A gG}}\n"
        "earthing: {{main terminal: A1}}\nboards:\n  +A1:\n    feed: [supply, {}]\n    circuits:\n"
        "      - {}\n",
        system, tail, circuit);
  }
};

struct Worked {
  site::Site site;
  std::vector<Figure> all;

  explicit Worked(const std::string& yaml) : site(site_from(yaml)) {
    const network::Network network = network::build(site);
    std::vector<network::StateView> states;
    for (const site::State& state : site.states)
      states.push_back(network::view(network, site, state));
    all = figures::figures_of(site, network, states);
  }

  const Figure& of(What what, const std::string& name, std::size_t state = 0) const {
    for (const Figure& one : all) {
      const std::string& designation = one.about.run != site::none
                                           ? site.runs[one.about.run].designation
                                           : site.elements[one.about.element].designation;
      if (one.what == what && designation == name && one.state == state) return one;
    }
    FAIL("no such figure of " << name);
    return all.front();
  }
  double value(What what, const std::string& name) const { return number(of(what, name).value); }
  double limit(What what, const std::string& name) const { return number(of(what, name).limit); }

  static double number(const std::optional<figures::Amount>& amount) {
    REQUIRE(amount.has_value());
    if (const auto* current = std::get_if<Current>(&*amount)) return current->in(unit::ampere);
    return std::get<double>(*amount);
  }
};

}  // namespace

TEST_CASE("figures: the current of a circuit is its power over the voltage") {
  // 3000 W / 230 V = 13.043 A, in the circuit and in the tail.
  const Worked house(House{}.yaml());
  CHECK(house.value(What::current, "-W11") == Approx(3000.0 / 230.0));
  CHECK(house.value(What::current, "-W1") == Approx(3000.0 / 230.0));
}

TEST_CASE("figures: power factor and diversity count") {
  // 3000 W × 0.5 / (230 V × 0.8) = 8.152 A.
  House given;
  given.circuit =
      "{id: -F11, device: B16 1P+N, cable: -W11 3×2.5 mm² Cu 20 m PVC carries 27 A, load: 3 kW, "
      "diversity: 0.5, "
      "power factor: 0.8}";
  CHECK(Worked(given.yaml()).value(What::current, "-W11") == Approx(1500.0 / (230.0 * 0.8)));
}

TEST_CASE("figures: a cable carries what its protection lets through") {
  // 27 A as declared. B16: 16 A and 1.45 × 16 A = 23.2 A,
  // against 1.45 × 27 A = 39.15 A.
  const Worked house(House{}.yaml());
  CHECK(house.value(What::protection, "-W11") == Approx(13.0435).epsilon(1e-4));
  CHECK(house.limit(What::protection, "-W11") == Approx(16));
  CHECK(house.value(What::capacity, "-W11") == Approx(16));
  CHECK(house.limit(What::capacity, "-W11") == Approx(27));
  CHECK(house.value(What::operates_in_time, "-W11") == Approx(23.2));
  CHECK(house.limit(What::operates_in_time, "-W11") == Approx(39.15));
  CHECK(house.of(What::capacity, "-W11").holds == Judgement::holds);
}

TEST_CASE("figures: a cable that carries just what its protection lets through holds, less fails") {
  // B16: 16 A and 23.2 A, against 16 A and 1.45 × 16 A = 23.2 A; then against 15.9 A.
  House given;
  given.circuit =
      "{id: -F11, device: B16 1P+N, cable: -W11 3×1.5 mm² Cu 20 m PVC carries 16 A, load: 3 kW}";
  const Worked just(given.yaml());
  CHECK(just.of(What::capacity, "-W11").holds == Judgement::holds);
  CHECK(just.of(What::operates_in_time, "-W11").holds == Judgement::holds);
  given.circuit =
      "{id: -F11, device: B16 1P+N, cable: -W11 3×1.5 mm² Cu 20 m PVC carries 15.9 A, load: 3 kW}";
  const Worked less(given.yaml());
  CHECK(less.of(What::capacity, "-W11").holds == Judgement::fails);
  CHECK(less.of(What::operates_in_time, "-W11").holds == Judgement::fails);
}

TEST_CASE("figures: the drop is that of the tail and of the circuit, there and back") {
  // R at 70 °C = R20 × 1.2: 16 mm² 1.15, 2.5 mm² 7.41 mΩ/m. X 0.08 mΩ/m turns, it takes nothing
  // from the size worth a thousandth of the drop.
  // 2 × 13.0435 A × 1.2 × (1.15 × 10 + 7.41 × 20) mΩ = 5.000 V of 230 V = 2.174 %.
  const Worked house(House{}.yaml());
  const double drop = 2 * (3000.0 / 230.0) * 1.2 * (11.5 + 148.2) * 1e-3 / 230.0;
  CHECK(house.all.back().what == What::operates_in_time);
  for (const Figure& one : house.all)
    if (one.what == What::drop) CHECK(Worked::number(one.value) == Approx(drop).epsilon(2e-3));
}

TEST_CASE("figures: equal loads on three lines leave the neutral without current") {
  House given;
  given.system = "3/N/PE 230/400 V 50 Hz";
  given.tail = "-W1 5×16 mm² Cu 10 m PVC carries 76 A";
  given.circuit =
      "{id: -F11, device: C16 4P, cable: -W11 5×2.5 mm² Cu 20 m PVC carries 24 A, load: 6.9 kW}";
  // 6900 W / (3 × 230 V) = 10 A.
  const Worked house(given.yaml());
  CHECK(house.value(What::current, "-W11") == Approx(10));
  CHECK(house.value(What::neutral_current, "-W11") == Approx(0).margin(1e-6));
}

TEST_CASE("figures: unequal loads meet in the neutral as phasors") {
  House given;
  given.system = "3/N/PE 230/400 V 50 Hz";
  given.tail = "-W1 5×16 mm² Cu 10 m PVC carries 76 A";
  given.circuit =
      "{id: -F11, device: B16 1P+N, cable: 3×2.5 mm² Cu 20 m PVC carries 27 A, load: 2.3 kW, "
      "phase: L1}\n"
      "      - {id: -F12, device: B16 1P+N, cable: 3×2.5 mm² Cu 20 m PVC carries 27 A, load: 2.3 "
      "kW, phase: L2}";
  // Two currents of 10 A, 120 degrees apart, add up to 10 A.
  const Worked house(given.yaml());
  CHECK(house.value(What::current, "-W1") == Approx(10));
  CHECK(house.value(What::neutral_current, "-W1") == Approx(10));
}

TEST_CASE("figures: what is not given is named, and nothing that hangs on it has a value") {
  House given;
  given.circuit = "{id: -F11, device: B16 1P+N, cable: -W11 3×2.5 mm² Cu 20 m PVC carries 27 A}";
  const Worked no_load(given.yaml());
  const Figure& current = no_load.of(What::current, "-W1");
  CHECK_FALSE(current.value.has_value());
  REQUIRE(current.missing.size() == 1);
  CHECK(current.missing[0].key == "load");
  CHECK(no_load.of(What::protection, "-W1").holds == Judgement::unknown);
  CHECK(no_load.of(What::capacity, "-W11").holds == Judgement::holds);  // 16 A ≤ 27 A all the same
}

TEST_CASE("figures: without insulation the currents are known, the drop is not") {
  House given;
  given.circuit = "{id: -F11, device: B16 1P+N, cable: -W11 3×2.5 mm² Cu 20 m, load: 3 kW}";
  const Worked house(given.yaml());
  CHECK(house.value(What::current, "-W1") == Approx(3000.0 / 230.0));
  for (const Figure& one : house.all) {
    if (one.what != What::drop) continue;
    CHECK_FALSE(one.value.has_value());
    CHECK(one.holds == Judgement::unknown);
    REQUIRE(one.missing.size() == 1);
    CHECK(one.missing[0] == figures::Missing{"insulation", "-W11"});
    CHECK(one.working.empty());  // no number that rests on a guess
  }
}

TEST_CASE("figures: without what it carries a cable is not judged") {
  House given;
  given.circuit = "{id: -F11, device: B16 1P+N, cable: -W11 3×2.5 mm² Cu 20 m, load: 3 kW}";
  const Figure capacity = Worked(given.yaml()).of(What::capacity, "-W11");
  CHECK_FALSE(capacity.limit.has_value());
  CHECK(capacity.holds == Judgement::unknown);
  REQUIRE(capacity.missing.size() == 1);
  CHECK(capacity.missing[0] == figures::Missing{"carries", "-W11"});
}

TEST_CASE("figures: a cable of unknown length hides only the drop of what hangs behind it") {
  House given;
  given.circuit =
      "{id: -F11, device: B16 1P+N, cable: -W11 3×2.5 mm² Cu PVC, load: 1 kW, name: near}\n"
      "      - {id: -F12, device: B16 1P+N, cable: -W12 3×2.5 mm² Cu 20 m PVC carries 27 A, load: "
      "1 kW}";
  const Worked house(given.yaml());
  int known = 0;
  int hidden = 0;
  for (const Figure& one : house.all) {
    if (one.what != What::drop) continue;
    ++(one.value ? known : hidden);
  }
  CHECK(known == 1);
  CHECK(hidden == 1);
}

TEST_CASE("figures: a motor must say its power factor, a heater need not") {
  House given;
  given.circuit =
      "{id: -F11, device: B16 1P+N, cable: -W11 3×2.5 mm² Cu 20 m PVC carries 27 A, load: 1 kW, "
      "use: motor}";
  const Figure current = Worked(given.yaml()).of(What::current, "-W11");
  REQUIRE(current.missing.size() == 1);
  CHECK(current.missing[0].key == "power factor");
}

TEST_CASE("figures: a tail with no device of its own is bounded by the supply's fuse") {
  const Worked house(House{}.yaml());
  // 63 A gG: opens at 1.6 × 63 A = 100.8 A; but behind the board one B16 is all that can draw.
  CHECK(house.value(What::capacity, "-W1") == Approx(16));
  CHECK(house.value(What::operates_in_time, "-W1") == Approx(23.2));
}

TEST_CASE("figures: many circuits draw more than the supply's fuse lets through") {
  House given;
  given.circuit.clear();
  for (int i = 0; i < 5; ++i)
    given.circuit += fmt::format(
        "{}{{id: -F1{}, device: B16 1P+N, cable: 3×2.5 mm² Cu 20 m PVC carries 27 A, load: 1 kW}}",
        i == 0 ? "" : "\n      - ", i);
  // 5 × 16 A = 80 A is more than 63 A.
  const Worked house(given.yaml());
  CHECK(house.value(What::capacity, "-W1") == Approx(63));
  CHECK(house.value(What::operates_in_time, "-W1") == Approx(100.8));
}

TEST_CASE("figures: more length never lowers a drop, a larger size never raises it") {
  double before = 0.0;
  for (const int metres : {5, 10, 20, 40, 80}) {
    House given;
    given.circuit = fmt::format(
        "{{id: -F11, device: B16 1P+N, cable: -W11 3×2.5 mm² Cu {} m PVC, load: 3 kW}}", metres);
    for (const Figure& one : Worked(given.yaml()).all)
      if (one.what == What::drop) {
        CHECK(Worked::number(one.value) > before);
        before = Worked::number(one.value);
      }
  }
  for (const char* size : {"4", "6", "10", "16"}) {
    House given;
    given.circuit = fmt::format(
        "{{id: -F11, device: B16 1P+N, cable: -W11 3×{} mm² Cu 80 m PVC, load: 3 kW}}", size);
    for (const Figure& one : Worked(given.yaml()).all)
      if (one.what == What::drop) {
        CHECK(Worked::number(one.value) < before);
        before = Worked::number(one.value);
      }
  }
}

}  // namespace linewright::tests
