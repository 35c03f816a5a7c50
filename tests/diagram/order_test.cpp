// The order of the columns against every other order, and the crossings counted in it against those
// of the finished lines.
#include "diagram/order.hpp"

#include <algorithm>
#include <numeric>
#include <optional>
#include <random>
#include <tuple>
#include <utility>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "diagram/arrange.hpp"
#include "diagram/measure.hpp"
#include "diagram/standing.hpp"
#include "drawing/metrics.hpp"
#include "support/site_from.hpp"

using namespace linewright;
using namespace linewright::tests;
using diagram::HubKind;

namespace {

const diagram::Metrics& metrics() {
  static const diagram::Metrics known = drawing::metrics();
  return known;
}

// Up to three boards, fed from the supply or from each other, with ties between them and a
// generator.
std::string meshed_site(unsigned seed) {
  std::mt19937 engine(seed);
  const auto upto = [&](unsigned most) { return static_cast<unsigned>(engine()) % (most + 1); };
  const unsigned boards = 2 + upto(1);
  const bool generator = upto(1) > 0;
  std::string text =
      "supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, fuse: 63 A gG}\n"
      "boards:\n";
  for (unsigned b = 1; b <= boards; ++b) {
    const std::string from = b == 1 ? "supply" : fmt::format("A{}", 1 + upto(b - 2));
    text += fmt::format(
        "  +A{0}:\n    feed: [{1}, -W{0} 5×16 mm² 4 m, -F{0} C63 4P 6 kA]\n    circuits:\n"
        "      - {{id: -F{0}1, name: Lights, device: B10 1P+N 30 mA type A}}\n",
        b, from);
  }
  const unsigned last = boards + 1;  // a board behind the changeover, where there is one
  const bool panel = generator && upto(1) > 0;
  if (panel)
    text += fmt::format(
        "  +A{0}:\n    feed: [A9, -W{0} 5×6 mm² 5 m]\n    circuits:\n"
        "      - {{id: -F{0}1, name: Lights, device: B10 1P+N 30 mA type A}}\n",
        last);
  if (generator) text += "generators: {-G2: {power: 15 kVA}}\n";
  if (panel)
    text += fmt::format(
        "panel: {{id: +A9, interior: manual changeover, grid: [A{}, -F20 C40 4P, -W20 5×10 mm² 9 "
        "m], generator: [-G2, -W9 5×6 mm² 9 m]}}\n",
        1 + upto(boards - 1));
  text += "chains:\n";
  if (generator && !panel)
    text += fmt::format("  - [-G2, -F9 C25 4P normally open, -W9 5×6 mm² 9 m, A{}]\n",
                        1 + upto(boards - 1));
  const unsigned ties = 1 + upto(2);
  for (unsigned t = 0; t < ties; ++t) {
    const unsigned upper = 1 + upto(boards - 2);
    text += fmt::format(
        "  - [A{0}, -Q{2} switch-disconnector 63 A 4P normally open, -W8{2} 5×6 mm² 9 m, A{1}]\n",
        upper, upper + 1 + upto(boards - upper - 1), 70 + t);
  }
  return text;
}

// One or two hybrid inverters between the two bars of a panel with bypass: their lines out must
// cross a bar.
std::string hybrid_site(unsigned inverters, bool board_before) {
  std::string text =
      "supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, fuse: 63 A gG}\n"
      "inverters:\n";
  for (unsigned i = 1; i <= inverters; ++i)
    text += fmt::format(
        "  -T{0}: {{kind: hybrid, backup side: yes, power: 10 kVA, bond: closes in island}}\n", i);
  text += fmt::format(
      "panel:\n  id: +A2\n  interior: one source with bypass\n  grid: [{}, -W2 5×10 mm² 9 m]\n"
      "  inverters:\n",
      board_before ? "A1" : "supply");
  for (unsigned i = 1; i <= inverters; ++i)
    text += fmt::format(
        "    -T{0}: {{in: [-F2{0} C20 4P, -W1{0} 5×6 mm² 6 m], out: [-W4{0} 5×6 mm² 6 m, -F5{0} "
        "C20 "
        "4P]}}\n",
        i);
  text += "boards:\n";
  if (board_before) text += "  +A1: {feed: [supply, -W1 5×16 mm² 4 m, -F1 C63 4P 6 kA]}\n";
  return text +
         "  +A4:\n    feed: [A2, -W4 5×6 mm² 5 m]\n    circuits:\n"
         "      - {id: -F41, name: Lights, device: B10 1P+N 30 mA type A}\n";
}

/// What an order is asked about, kept together as the parts refer to each other.
struct Case {
  site::Site site;
  diagram::Plan plan;
  diagram::Measures measures;
  diagram::Arrangement arrangement;
};

Case case_of(const std::string& yaml) {
  Case made{.site = site_from(yaml), .plan = {}, .measures = {}, .arrangement = {}};
  made.plan = diagram::contract(made.site);
  diagram::rank_plan(made.site, made.plan);
  made.measures = diagram::measure(made.site, metrics(), made.plan, diagram::airy);
  made.arrangement = diagram::arrange(made.site, metrics(), made.plan, made.measures, {});
  return made;
}

diagram::OrderInput input_for(const Case& made) {
  constexpr double wide = 1000.0;
  diagram::OrderInput input{
      .plan = made.plan,
      .arrangement = made.arrangement,
      .measures = made.measures,
      .area = {.right = wide, .bottom = wide, .notch_left = wide, .notch_top = wide}};
  input.notched.assign(made.arrangement.rows.count(), false);
  return input;
}

using Place = std::pair<std::size_t, double>;  ///< position of the group, offset in it

// Upright columns through a level line that they do not end at: bars and joints reach over all that
// end at them, the way to a throw from its column to the changeover.
int crossings_in(const Case& made, const std::vector<std::size_t>& position) {
  const auto& [site, plan, measures, arrangement] = made;
  const auto place = [&](std::size_t c) {
    return Place{position[arrangement.group_of[c]], arrangement.offset_of[c]};
  };
  const auto through = [&](const Place& low, const Place& high, std::size_t layer,
                           const std::vector<bool>& own) {
    int count = 0;
    for (std::size_t c = 0; c < plan.chains.size(); ++c) {
      const diagram::ChainRows& rows = arrangement.chain_rows[c];
      if (own[c] || rows.first > layer || rows.last < layer) continue;
      count += low < place(c) && place(c) < high ? 1 : 0;
    }
    return count;
  };
  int count = 0;
  for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
    const diagram::Hub& hub = plan.hubs[h];
    if (hub.frame == site::none) continue;
    if (hub.kind != HubKind::bar && hub.kind != HubKind::joint) continue;
    std::vector<bool> own(plan.chains.size(), false);
    std::optional<Place> low;
    std::optional<Place> high;
    for (std::size_t c = 0; c < plan.chains.size(); ++c) {
      own[c] = plan.chains[c].upper == h || plan.chains[c].lower == h;
      if (!own[c]) continue;
      low = low ? std::min(*low, place(c)) : place(c);
      high = high ? std::max(*high, place(c)) : place(c);
    }
    if (low) count += through(*low, *high, arrangement.rows.layer(hub.tier, hub.rank), own);
  }
  for (std::size_t g = 0; g < arrangement.groups.size(); ++g) {
    const std::size_t h = arrangement.groups[g].hub;
    if (h == site::none || plan.hubs[h].kind != HubKind::changeover) continue;
    const Place here{position[g], 0.0};
    for (std::size_t c = 0; c < plan.chains.size(); ++c) {
      if (plan.chains[c].lower != h) continue;
      std::vector<bool> own(plan.chains.size(), false);
      own[c] = true;
      count += through(std::min(here, place(c)), std::max(here, place(c)),
                       arrangement.rows.layer(plan.hubs[h].tier, plan.hubs[h].rank), own);
    }
  }
  return count;
}

bool keeps_apart(const diagram::Standing& standing, const std::vector<std::size_t>& position) {
  const diagram::Faults faults = diagram::count_faults(standing, position);
  return faults.frames + faults.bars + faults.throws == 0;
}

}  // namespace

namespace {

/// The fewest crossings of any order that keeps everything apart; nothing if none does.
std::optional<int> fewest_crossings(const Case& made, const diagram::Standing& standing) {
  std::vector<std::size_t> position(made.arrangement.groups.size());
  std::iota(position.begin(), position.end(), 0U);
  std::optional<int> least;
  do {
    if (!keeps_apart(standing, position)) continue;
    const int count = crossings_in(made, position);
    least = least ? std::min(*least, count) : count;
  } while (std::next_permutation(position.begin(), position.end()));
  return least;
}

#ifdef __SANITIZE_ADDRESS__
constexpr std::size_t most_groups = 8;  // 8! = 40,320 orders
#else
constexpr std::size_t most_groups = 9;  // 9! = 362,880 orders
#endif

// How many crossings it has, or nothing if it is too large or no order keeps it apart.
std::optional<int> check_against_all_orders(const std::string& yaml,
                                            std::size_t most = most_groups) {
  const Case made = case_of(yaml);
  if (made.arrangement.groups.size() > most) return std::nullopt;
  const diagram::OrderInput input = input_for(made);
  const diagram::Standing standing = diagram::standing_of(input);
  const std::optional<int> least = fewest_crossings(made, standing);
  if (!least) return std::nullopt;
  const diagram::Ordered chosen = diagram::choose_order(input);
  CAPTURE(yaml);
  CHECK(keeps_apart(standing, chosen.position));
  CHECK(crossings_in(made, chosen.position) == *least);
  return least;
}

}  // namespace

TEST_CASE("order: no order of a small mesh of boards has fewer crossings than the chosen one") {
  int looked_at = 0;
  for (unsigned seed = 1; seed <= 120; ++seed)
    looked_at += check_against_all_orders(meshed_site(seed)) ? 1 : 0;
  CHECK(looked_at >= 40);
}

TEST_CASE("order: lines out of hybrid inverters cross no more bars than they must") {
  // One inverter: its line out stands beside the other columns of the first bar. Two: the lines in
  // end at one bar, the lines out at another below it; whichever stands between the lines in
  // crosses the first bar.
  const auto [inverters, board_before, must] =
      GENERATE(std::tuple{1U, true, 0}, std::tuple{1U, false, 0}, std::tuple{2U, false, 1});
  CAPTURE(inverters, board_before);
  const auto least = check_against_all_orders(hybrid_site(inverters, board_before), 9);
  REQUIRE(least);
  CHECK(*least == must);
}
