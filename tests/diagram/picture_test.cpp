// Pictures of the states: what they show is what the states are, and nothing covers anything.
#include "diagram/picture.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "check/analysed_site.hpp"
#include "check/proof_scope.hpp"
#include "diagram/picture_draw.hpp"
#include "diagram/sheet_checks.hpp"
#include "draw_states.hpp"
#include "drawing/display_list.hpp"
#include "drawing/metrics.hpp"
#include "drawing/pens.hpp"
#include "drawing/svg.hpp"
#include "drawing/symbol_table.hpp"
#include "drawing/tools.hpp"
#include "network/joining.hpp"
#include "rules/profile_data.hpp"
#include "support/paths.hpp"
#include "support/reference_layouts.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

using diagram::Group;
using diagram::Polyline;
using diagram::Sheet;
using diagram::Stroke;
using diagram::Text;

const diagram::Metrics& metrics() {
  static const diagram::Metrics known = drawing::metrics();
  return known;
}

/// A site, analysed, with its pictures.
struct Pictured {
  site::Site site;
  check::Profile profile;
  check::AnalysedSite analysed;
  std::vector<network::Refutation> hazards;
  diagram::PictureSet set;
  std::vector<Sheet> sheets;
  std::vector<std::string> notices;

  explicit Pictured(std::string_view yaml)
      : site(site_from(yaml)),
        profile(*rules::profile(site.profile)),
        analysed(check::analyse(site, profile)) {
    const network::Certificate proof =
        network::prove(analysed.network, site, check::proof_scope(analysed));
    for (const network::HazardVerdict& verdict : proof.verdicts)
      hazards.insert(hazards.end(), verdict.refutations.begin(), verdict.refutations.end());
    set = pictures_of(analysed, hazards);
    diagram::PictureSheets drawn = diagram::picture_sheets(site, metrics(), set);
    sheets = std::move(drawn.sheets);
    notices = std::move(drawn.notices);
    diagram::number_sheets(site, metrics(), "rules", 2, sheets);
  }
  Pictured(const Pictured&) = delete;
  Pictured& operator=(const Pictured&) = delete;
  ~Pictured() = default;

  std::vector<Group> groups(const std::string& kind) const {
    std::vector<Group> found;
    for (const Sheet& sheet : sheets)
      for (const Group& group : sheet.groups)
        if (group.kind == kind) found.push_back(group);
    return found;
  }
  const network::StateView* state(const std::string& name) const {
    for (const network::StateView& view : analysed.states)
      if (view.name() == name) return &view;
    return nullptr;
  }
};

std::string sample_text(const std::string& name) {
  return read_file(fmt::format("{}/samples/{}/{}.yaml", source_folder(), name, name));
}

const std::vector<std::string> samples{"tarn-house", "terrace", "clinic", "farm"};

/// "-T1 + -T2": the sources whose lines are one conductor with the terminal, from the state's view
/// alone.
std::string fed_by(const Pictured& pictured, const network::StateView& view,
                   const std::string& terminal) {
  const std::size_t colon = terminal.rfind(':');
  const std::size_t e = pictured.site.find(terminal.substr(0, colon));
  REQUIRE(e != site::none);
  const std::size_t t = pictured.site.find_terminal(e, terminal.substr(colon + 1));
  REQUIRE(t != site::none);
  std::string words;
  for (const network::Zone& zone : view.zones)
    for (const std::size_t source : zone.sources) {
      const auto index = network::source_of(pictured.analysed.network, source);
      if (network::any_joined(view, network::line_nodes(pictured.analysed.network, index),
                              network::line_nodes(pictured.analysed.network, e, t)))
        words += (words.empty() ? "" : " + ") + pictured.site.elements[source].designation;
    }
  return words.empty() ? "dead" : words;
}

std::string listed(const Faults& faults) {
  std::string text;
  for (const std::string& fault : faults)
    text += fault + "\n";
  return text;
}

/// The words of a group, joined by blanks.
std::string words_of_group(const Group& group) {
  std::string words;
  for (const diagram::Item& item : group.items)
    if (const auto* text = std::get_if<Text>(&item))
      words += (words.empty() ? "" : " ") + text->text;
  return words;
}

/// A row of boards, each fed by a way of its own from the main board.
std::string row_of_boards(int count, const std::string& name) {
  std::string yaml = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
states: {grid: {}}
boards:
  +A1:
    busbar: 250 A
    feed: [supply, -Q10 switch-disconnector 250 A 2P]
    circuits: [{id: -F11, device: B16 1P+N 30 mA type A 6 kA, load: 1 kW}]
)";
  for (int i = 0; i < count; ++i)
    yaml += fmt::format(
        "  +B{0}:\n    name: {1} {0}\n    busbar: 63 A\n    feed: [A1, -F{2} C32 2P 6 kA]\n"
        "    circuits: [{{id: -F{3}, device: B16 1P+N 30 mA type A 6 kA, load: 1 kW}}]\n",
        i + 10, name, i + 200, i + 1000);
  return yaml;
}

/// Number of sheets whose name begins so.
std::size_t sheets_named(const Pictured& pictured, const std::string& name) {
  return static_cast<std::size_t>(std::ranges::count_if(
      pictured.sheets, [&](const Sheet& sheet) { return sheet.name.starts_with(name); }));
}

/// How bright a colour is in print without colour: ITU-R BT.601 luma.
double luma(drawing::Colour c) {
  return 0.299 * c.red + 0.587 * c.green + 0.114 * c.blue;
}

}  // namespace

TEST_CASE("pictures: every named state of every sample has one") {
  for (const std::string& name : samples) {
    INFO(name);
    const Pictured pictured(sample_text(name));
    std::set<std::string> headings;
    for (const Group& group : pictured.groups("picture"))
      headings.insert(group.id);
    for (const site::State& state : pictured.site.states)
      CHECK(headings.contains(state.name));
    CHECK(headings.size() >= pictured.site.states.size());
  }
}

TEST_CASE("pictures: every line and bar is alive from what the state says, and only dead is grey") {
  for (const std::string& name : samples) {
    const Pictured pictured(sample_text(name));
    int looked_at = 0;
    for (const Group& group : pictured.groups("picture-line")) {
      const network::StateView* view = pictured.state(group.data.at("picture"));
      if (view == nullptr || !group.data.contains("terminal")) continue;
      ++looked_at;
      INFO(name << " " << view->name() << " " << group.data.at("terminal"));
      CHECK(group.data.at("feed") == fed_by(pictured, *view, group.data.at("terminal")));
      for (const diagram::Item& item : group.items) {
        const auto* line = std::get_if<Polyline>(&item);
        if (line == nullptr) continue;
        const bool dead = line->stroke == Stroke::dead || line->stroke == Stroke::dead_bar;
        CHECK(dead == (group.data.at("feed") == "dead"));
        if (dead) continue;
        const std::string first = group.data.at("feed").substr(0, group.data.at("feed").find(' '));
        REQUIRE(line->source > 0);
        const std::size_t source = pictured.set.sources[static_cast<std::size_t>(line->source) - 1];
        CHECK(pictured.site.elements[source].designation == first);
      }
    }
    CHECK(looked_at > 20);
  }
}

TEST_CASE("pictures: switches stand as in their state, closed ones straight, open ones aside") {
  for (const std::string& name : samples) {
    const Pictured pictured(sample_text(name));
    for (const Group& group : pictured.groups("picture-switch")) {
      const network::StateView* view = pictured.state(group.data.at("picture"));
      if (view == nullptr) continue;
      const std::string device = group.id.substr(view->name().size() + 1);
      const int s = pictured.analysed.network.find_switch(pictured.site.find(device));
      REQUIRE(s >= 0);
      const auto index = static_cast<std::size_t>(s);
      const int at = view->positions.of[index];
      INFO(name << " " << group.id);
      CHECK(group.data.at("position") ==
            pictured.analysed.network.switches[index].positions[static_cast<std::size_t>(at)]);
      bool oblique = false;
      for (const diagram::Item& item : group.items)
        if (const auto* line = std::get_if<Polyline>(&item))
          for (std::size_t i = 1; i < line->points.size(); ++i)
            oblique = oblique || (std::abs(line->points[i].x - line->points[i - 1].x) > 0.1 &&
                                  std::abs(line->points[i].y - line->points[i - 1].y) > 0.1);
      const std::string& position = group.data.at("position");
      CHECK(oblique == (position == "open" || position == "I" || position == "II"));
    }
  }
}

TEST_CASE("pictures: the joints of neutral and earth at work are those of the state") {
  for (const std::string& name : samples) {
    const Pictured pictured(sample_text(name));
    for (const network::StateView& view : pictured.analysed.states) {
      std::multiset<std::string> wanted;
      for (const network::Zone& zone : view.zones)
        for (const network::BondPoint& bond : zone.bonds)
          wanted.insert(pictured.site.elements[bond.element].designation);
      std::multiset<std::string> shown;
      for (const Group& group : pictured.groups("picture-bond")) {
        if (group.data.at("picture") != view.name() || group.data.at("works") != "yes") continue;
        const std::string id = group.id.substr(view.name().size() + 1);
        shown.insert(id.substr(0, id.find(' ')));
      }
      INFO(name << " " << view.name());
      CHECK(shown == wanted);
    }
  }
}

TEST_CASE("pictures: the fault of a live circuit goes out and comes home") {
  for (const std::string& name : samples) {
    const Pictured pictured(sample_text(name));
    for (const network::StateView& view : pictured.analysed.states) {
      const bool alive = std::ranges::count(view.alive_loads, pictured.set.faulty) > 0;
      int ways = 0;
      for (const Group& group : pictured.groups("picture-fault"))
        if (group.data.at("picture") == view.name() && !group.items.empty()) ++ways;
      INFO(name << " " << view.name());
      CHECK(ways == (alive ? 2 : 0));
    }
  }
}

TEST_CASE("pictures: no words cover others or lines, none are small, nothing leaves the sheet") {
  for (const std::string& name : samples) {
    const Pictured pictured(sample_text(name));
    for (const Sheet& sheet : pictured.sheets) {
      INFO(name);
      CHECK(listed(covered_texts(sheet, metrics())) == "");
      CHECK(listed(small_texts(sheet)) == "");
      CHECK(listed(outside_frame(sheet, metrics())) == "");
    }
  }
}

TEST_CASE("pictures: everything stands in the same place in each") {
  for (const std::string& name : samples) {
    const Pictured pictured(sample_text(name));
    // From the first picture's words to those of the others there is one step, the same for all.
    std::map<std::string, std::map<std::string, diagram::Point>> places;
    for (const std::string kind : {"picture-switch", "picture-board", "picture-source"})
      for (const Group& group : pictured.groups(kind))
        for (const diagram::Item& item : group.items)
          if (const auto* text = std::get_if<Text>(&item); text != nullptr)
            if (text->text.starts_with("-") || text->text.starts_with("+"))
              places[group.data.at("picture")][text->text] = text->at;
    const auto& first = places.begin()->second;
    for (const auto& [picture, own] : places) {
      INFO(name << " " << picture);
      REQUIRE(own.size() == first.size());
      const diagram::Point step{own.begin()->second.x - first.begin()->second.x,
                                own.begin()->second.y - first.begin()->second.y};
      for (const auto& [words, at] : own) {
        INFO(words);
        CHECK(at.x - first.at(words).x == Approx(step.x).margin(1e-6));
        CHECK(at.y - first.at(words).y == Approx(step.y).margin(1e-6));
      }
    }
  }
}

TEST_CASE("pictures: drawn again they are the same to the byte") {
  const auto bytes = [] {
    const Pictured pictured(sample_text("clinic"));
    diagram::Document document;
    document.sheets = pictured.sheets;
    const auto drawing = drawing::render(document, drawing::built_in_symbols());
    REQUIRE(drawing);
    return *drawing::write_svg(*drawing, {.sheet = 0});
  };
  CHECK(bytes() == bytes());
}

TEST_CASE("pictures: sources differ in print without colour, and dead from alive") {
  for (int a = 1; a <= 4; ++a)
    for (int b = a + 1; b <= 4; ++b) {
      CHECK(drawing::pen_of(Stroke::live, a).dash != drawing::pen_of(Stroke::live, b).dash);
      CHECK(drawing::pen_of(Stroke::live_bar, a).dash != drawing::pen_of(Stroke::live_bar, b).dash);
    }
  for (int a = 1; a <= 12; ++a)
    for (int b = a + 1; b <= 12; ++b)
      CHECK_FALSE(drawing::pen_of(Stroke::live, a) == drawing::pen_of(Stroke::live, b));
  const drawing::Pen dead = drawing::pen_of(Stroke::dead);
  CHECK(dead.colour.red == dead.colour.green);
  CHECK(dead.colour.green == dead.colour.blue);
  for (int a = 1; a <= 12; ++a) {
    const drawing::Pen live = drawing::pen_of(Stroke::live, a);
    CHECK(live.width >= 2.0 * dead.width);
    CHECK(luma(live.colour) < 200.0);  // on white: dark enough to be seen
  }
  // A hazard's band stays lighter than any line on it.
  for (int a = 1; a <= 6; ++a)
    CHECK(luma(drawing::pen_of(Stroke::halo).colour) >
          luma(drawing::pen_of(Stroke::live, a).colour));
}

TEST_CASE("pictures: a hazard has its way marked, and what is moved for it ringed") {
  std::string yaml(layout_d);
  const std::string changeover = "-Q1: changeover I-0-II 63 A 4P by hand neutral simultaneous";
  yaml.replace(yaml.find(changeover), changeover.size(),
               "-Q1: contactor 63 A 4P by hand\n  -Q2: contactor 63 A 4P normally open by hand");
  const auto with = [&](const std::string& from, const std::string& to) {
    yaml.replace(yaml.find(from), from.size(), to);
  };
  with("feed: [-Q1, -W3", "feed: [-WB1, -W3");
  with("5×16 mm² 3 m, -Q1:I]", "5×16 mm² 3 m, -Q1, -WB1]");
  with("5×10 mm² 20 m, -Q1:II]", "5×10 mm² 20 m, -Q2, -WB1]");
  with("boards:", "busbars: {-WB1: 63 A}\nboards:");
  with("grid: {-Q1: I}", "grid: {-Q1: closed}");
  with("generator: {-Q1: II}", "generator: {-Q1: open, -Q2: closed, running: [-G2]}");
  const Pictured pictured(yaml);
  const auto joined = std::ranges::find_if(pictured.hazards, [](const auto& hazard) {
    return hazard.hazard.kind == network::HazardKind::sources_joined;
  });
  REQUIRE(joined != pictured.hazards.end());
  const std::string picture = fmt::format("hazard {}", joined - pictured.hazards.begin() + 1);
  bool halo = false;
  for (const Group& group : pictured.groups("picture-hazard"))
    halo = halo || (group.data.at("picture") == picture && !group.items.empty());
  CHECK(halo);
  std::set<std::string> ringed;
  for (const Group& group : pictured.groups("picture-switch"))
    for (const diagram::Item& item : group.items)
      if (const auto* box = std::get_if<diagram::Box>(&item);
          box != nullptr && box->stroke == Stroke::flag && group.data.at("picture") == picture)
        ringed.insert(group.id.substr(picture.size() + 1));
  std::set<std::string> moved;
  for (const network::Move& move : joined->moves)
    if (move.kind == network::Move::Kind::put)
      moved.insert(pictured.analysed.name(
          pictured.analysed.network.switches[static_cast<std::size_t>(move.by)].element));
  CHECK(!moved.empty());
  CHECK(ringed == moved);
  for (const Sheet& sheet : pictured.sheets)
    CHECK(listed(covered_texts(sheet, metrics())) == "");
}

TEST_CASE("pictures: the line beside a way keeps its distance and goes round where it turns back") {
  // Right, down, and back up: to the right hand means below, then left of the way down.
  const std::vector<diagram::Point> way{{0, 0}, {10, 0}, {10, 10}, {10, 0}};
  const auto line = diagram::beside(way, 1.0);
  const std::vector<diagram::Point> wanted{{0, 1}, {9, 1}, {9, 10}, {11, 10}, {11, 0}};
  REQUIRE(line.size() == wanted.size());
  for (std::size_t i = 0; i < line.size(); ++i) {
    CHECK(line[i].x == Approx(wanted[i].x));
    CHECK(line[i].y == Approx(wanted[i].y));
  }
}

TEST_CASE("pictures: hazards stand on sheets of their own, in cells that they fill") {
  // Six states on one sheet; the two hazards, in cells half as wide as the sheet, on the next.
  const Pictured pictured(
      read_file(source_folder() + "/samples/faulty/three-pole-changeover.yaml"));
  REQUIRE(pictured.set.pictures.size() == 8);
  REQUIRE(pictured.sheets.size() == 2);
  CHECK(pictured.sheets[0].name == "states");
  CHECK(pictured.sheets[1].name == "hazards");
  for (const Sheet& sheet : pictured.sheets) {
    CHECK(listed(covered_texts(sheet, metrics())) == "");
    const auto rules = std::ranges::count_if(sheet.groups, [](const Group& group) {
      return group.kind == "legend" &&
             words_of_group(group).find("the way of the hazard") != std::string::npos;
    });
    CHECK(rules == (sheet.name == "hazards" ? 1 : 0));
  }
}

TEST_CASE("pictures: what of the legend does not fit its column goes on in the others") {
  const Pictured pictured(row_of_boards(14, "Flat"));
  REQUIRE(pictured.sheets.size() == 1);
  const std::string legend = words_of_group(pictured.groups("legend").at(0));
  for (int i = 0; i < 14; ++i) {
    INFO(i << ": " << legend);
    CHECK(legend.find(fmt::format("+B{0} Flat {0}", i + 10)) != std::string::npos);
  }
  CHECK(listed(covered_texts(pictured.sheets[0], metrics())) == "");
  CHECK(listed(outside_frame(pictured.sheets[0], metrics())) == "");
}

TEST_CASE("pictures: a legend longer than its place stands whole on a sheet of its own") {
  const Pictured pictured(row_of_boards(
      14, "Flat and staircase with a very long name that fills more than one line, number"));
  REQUIRE(sheets_named(pictured, "states") == 1);
  REQUIRE(sheets_named(pictured, "marks") == 1);
  const auto legends = pictured.groups("legend");
  REQUIRE(legends.size() == 2);
  CHECK(words_of_group(legends[0]).find("All marks stand on the last sheet.") != std::string::npos);
  for (int i = 0; i < 14; ++i)
    CHECK(words_of_group(legends[1]).find(fmt::format("+B{}", i + 10)) != std::string::npos);
  for (const Sheet& sheet : pictured.sheets) {
    CHECK(listed(covered_texts(sheet, metrics())) == "");
    CHECK(listed(outside_frame(sheet, metrics())) == "");
  }
}

TEST_CASE("pictures: a site that fits no sheet is told so on the sheet and in a notice") {
  Pictured pictured(row_of_boards(3, "Flat"));
  CHECK(pictured.notices.empty());
  // A designation wider than the sheet leaves no room for any picture.
  const std::size_t board = pictured.site.assemblies.size() - 1;
  pictured.site.assemblies[board].designation = "+" + std::string(400, 'W');
  const diagram::PictureSheets drawn =
      diagram::picture_sheets(pictured.site, metrics(), pictured.set);
  REQUIRE(drawn.sheets.size() == 1);
  REQUIRE(drawn.notices.size() == 1);
  CHECK(drawn.notices[0].find("4 boards and panels, 1 source") != std::string::npos);
  std::string words;
  for (const Group& group : drawn.sheets[0].groups)
    words += words_of_group(group);
  CHECK(words.find("No pictures: the site fits no sheet of A3") != std::string::npos);
  CHECK(words.find("linewright states FILE") != std::string::npos);
  CHECK(listed(outside_frame(drawn.sheets[0], metrics())) == "");
}

}  // namespace linewright::tests
