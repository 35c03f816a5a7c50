// The SVG as others see it: well-formed, every element to be found, nothing hostile let through.
#include "drawing/svg.hpp"

#include <cmath>
#include <set>

#include <catch2/catch.hpp>
#include <pugixml.hpp>

#include "drawing/symbol_table.hpp"
#include "drawing/tools.hpp"
#include "drawing/xml.hpp"
#include "symbol_document.hpp"

namespace {

using namespace linewright;
using namespace linewright::drawing;
using namespace linewright::tests;

std::string svg_of(const diagram::Document& document, const SvgOptions& options = {}) {
  const Result<Drawing> drawing = render(document, built_in_symbols());
  if (!drawing) FAIL(drawing.error().message);
  const Result<std::string> svg = write_svg(*drawing, options);
  if (!svg) FAIL(svg.error().message);
  return *svg;
}

struct Parsed {
  pugi::xml_document document;
  explicit Parsed(const std::string& svg) {
    const pugi::xml_parse_result result = document.load_string(svg.c_str(), pugi::parse_full);
    INFO(result.description());
    REQUIRE(result);
  }
  pugi::xml_node find(const char* query) const { return document.select_node(query).node(); }
};

diagram::Group element(std::string id) {
  diagram::Group group;
  group.kind = "element";
  group.id = std::move(id);
  group.title = "-Q1 switch-disconnector";
  group.description = "63 A, 4 poles";
  group.data = {{"kind", "switch-disconnector"}};
  group.items.push_back(diagram::SymbolUse{"switch-disconnector", {50, 50}, 0});
  return group;
}

}  // namespace

TEST_CASE("svg: an element is a group with class, id, kind, title and description") {
  const Parsed svg(svg_of(document_of(element("-Q1"))));
  const pugi::xml_node group = svg.find("//g[@class='element']");
  CHECK(std::string(group.attribute("id").value()) == "id-Q1");
  CHECK(std::string(group.attribute("data-id").value()) == "-Q1");
  CHECK(std::string(group.attribute("data-kind").value()) == "switch-disconnector");
  CHECK(std::string(group.child_value("title")) == "-Q1 switch-disconnector");
  CHECK(std::string(group.child_value("desc")) == "63 A, 4 poles");
  CHECK(std::string(group.child("use").attribute("href").value()) == "#symbol-switch-disconnector");
  CHECK(svg.find("//symbol[@id='symbol-switch-disconnector']"));
  CHECK(std::string(svg.find("/svg").attribute("width").value()) == "420mm");
  CHECK(std::string(svg.find("/svg").attribute("viewBox").value()) == "0 0 420 297");
  CHECK(std::string(svg.find("/svg").child_value("title")) == "Overview");
}

TEST_CASE("svg: a run is one path with both its ends") {
  diagram::Group run;
  run.kind = "run";
  run.id = "-W1";
  run.data = {{"from", "-P1:2"}, {"to", "-Q1:1"}};
  run.items.push_back(diagram::Polyline{{{10, 10}, {10, 30}, {40, 30}}});
  run.items.push_back(diagram::Polyline{{{20, 30}, {20, 60.126}}});
  run.items.push_back(diagram::Dot{{20, 30}});
  const Parsed svg(svg_of(document_of(run)));
  const pugi::xpath_node_set paths = svg.document.select_nodes("//path[@class='run']");
  REQUIRE(paths.size() == 1);
  const pugi::xml_node path = paths.first().node();
  CHECK(std::string(path.attribute("data-from").value()) == "-P1:2");
  CHECK(std::string(path.attribute("data-to").value()) == "-Q1:1");
  CHECK(std::string(path.attribute("d").value()) == "M10 10V30H40M20 30V60.13");
  CHECK(std::string(path.attribute("stroke-width").value()) == "0.35");
  CHECK(std::string(path.parent().attribute("id").value()) == "id-W1");
}

TEST_CASE("svg: the widths of symbol, wire, busbar and frame are those of the target") {
  const auto [stroke, width] =
      GENERATE(table<diagram::Stroke, std::string>({{diagram::Stroke::symbol, "0.3"},
                                                    {diagram::Stroke::wire, "0.35"},
                                                    {diagram::Stroke::busbar, "1"},
                                                    {diagram::Stroke::frame, "0.7"}}));
  diagram::Group group;
  group.items.push_back(diagram::Polyline{{{0, 0}, {5, 5}}, stroke});
  const Parsed svg(svg_of(document_of(group)));
  const pugi::xml_node path = svg.find("/svg/g/path");
  CHECK(std::string(path.attribute("stroke-width").value()) == width);
  CHECK(std::string(path.attribute("stroke").value()) == "#000");
}

TEST_CASE("svg: lettering is real text, also when it reads from the right") {
  diagram::Group group = text_group("µ Ω → 5×16 mm²");
  diagram::Text turned;
  turned.at = {30, 40};
  turned.text = "Cooker";
  turned.turn = diagram::Turn::from_the_right;
  turned.weight = diagram::Weight::bold;
  turned.anchor = diagram::Anchor::end;
  group.items.push_back(turned);
  const Parsed svg(svg_of(document_of(group)));
  const pugi::xml_node first = svg.find("//text[1]");
  CHECK(std::string(first.text().get()) == "µ Ω → 5×16 mm²");
  CHECK(std::string(first.attribute("font-size").value()) == "3.52");  // 2.5 x 2048 / 1456
  const pugi::xml_node second = svg.find("//text[2]");
  CHECK(std::string(second.attribute("transform").value()) == "rotate(-90 30 40)");
  CHECK(std::string(second.attribute("text-anchor").value()) == "end");
}

TEST_CASE("svg: hostile names are escaped, ids stay unique and safe") {
  const std::string name = "-Q1\"/><script>alert('&')</script>\x01\u202E";
  diagram::Document document = document_of(element(name));
  document.title = name;
  auto& groups = document.sheets[0].groups;
  groups[0].title = name;
  groups[0].description = name;
  groups[0].data["x\"y"] = "not an attribute name";
  groups[0].data["from"] = name;
  groups.push_back(element(name));
  groups.push_back(element("Q 1"));
  groups.push_back(element("Q_201"));
  groups.push_back(text_group(name));
  const std::string text = svg_of(document);
  CHECK(text.find("<script>") == std::string::npos);
  CHECK(text.find('\x01') == std::string::npos);
  const Parsed svg(text);
  std::set<std::string> ids;
  for (const pugi::xpath_node& node : svg.document.select_nodes("//*[@id]")) {
    const std::string id = node.node().attribute("id").value();
    INFO(id);
    CHECK(ids.insert(id).second);
    CHECK(id.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
                               "-_.") == std::string::npos);
  }
  CHECK(ids.size() == 5);  // four elements and the one symbol that they share
  CHECK(std::string(svg.find("//g[@class='element']").attribute("data-id").value()) ==
        "-Q1\"/><script>alert('&')</script>");
}

TEST_CASE("svg: links lead to ids of the same sheet and to files of others, dead ones are named") {
  diagram::Group link;
  link.kind = "notes";
  link.items.push_back(diagram::Link{{10, 10, 20, 5}, "-Q1"});
  link.items.push_back(diagram::Link{{10, 20, 20, 5}, "-G2"});
  link.items.push_back(diagram::Link{{10, 30, 20, 5}, "board a#"});
  link.items.push_back(diagram::Link{{10, 40, 20, 5}, "overview#-Q1"});
  link.items.push_back(diagram::Link{{10, 50, 20, 5}, "-X9"});
  diagram::Document document = document_of(link);
  document.sheets[0].groups.push_back(element("-Q1"));
  document.sheets.emplace_back();
  document.sheets[1].name = "board a";
  document.sheets[1].groups.push_back(element("-G2"));
  const Parsed svg(svg_of(document));
  std::vector<std::string> found;
  for (const pugi::xpath_node& node : svg.document.select_nodes("//a"))
    found.emplace_back(node.node().attribute("href").value());
  CHECK(found ==
        std::vector<std::string>{"#id-Q1", "board%20a.svg#id-G2", "board%20a.svg", "#id-Q1"});
  const Result<Drawing> drawing = render(document, built_in_symbols());
  REQUIRE(drawing);
  CHECK(drawing->dead_links == std::vector<std::string>{"-X9"});
}

TEST_CASE("svg: the fonts in it are cut to what is used and are fonts") {
  const std::string svg = svg_of(document_of(text_group("Ab →")));
  const Parsed parsed(svg);
  const std::string style = parsed.find("//style").text().get();
  CHECK(style.find("Linewright Lettering") != std::string::npos);
  CHECK(style.find("Linewright Signs") != std::string::npos);
  CHECK(style.find("font-weight:700") == std::string::npos);
  // A TrueType file begins with 00 01 00 00 00, in base 64 "AAEAAAA".
  CHECK(style.find("base64,AAEAAAA") != std::string::npos);
  CHECK(svg.size() < 20'000);
}

TEST_CASE("svg: two runs give the same bytes, librsvg renders them") {
  const diagram::Document document = symbol_document({});
  const std::string first = svg_of(document);
  CHECK(first == svg_of(document));
  const std::string path = write_scratch("symbols.svg", first);
  const CommandOutcome lint = run_command("xmllint --noout '" + path + "'");
  INFO(lint.output);
  CHECK(lint.exit == 0);
  CHECK(run_command("rsvg-convert '" + path + "' -o '" + path + ".png'").exit == 0);
}

TEST_CASE("svg: numbers have two decimals at most and no needless zeros") {
  CHECK(svg_number(0.0) == "0");
  CHECK(svg_number(-0.001) == "0");
  CHECK(svg_number(2.50) == "2.5");
  CHECK(svg_number(100.0) == "100");
  CHECK(svg_number(-1.239) == "-1.24");
  CHECK(svg_number(1e8) == "100000000");
}

TEST_CASE("svg: base 64 as in RFC 4648, section 10") {
  CHECK(base64("") == "");
  CHECK(base64("f") == "Zg==");
  CHECK(base64("fo") == "Zm8=");
  CHECK(base64("foo") == "Zm9v");
  CHECK(base64("foob") == "Zm9vYg==");
}

TEST_CASE("drawing: what can not be drawn is refused, not skipped") {
  diagram::Group group;
  group.items.push_back(diagram::SymbolUse{"no-such-symbol", {0, 0}, 0});
  const Result<Drawing> unknown = render(document_of(group), built_in_symbols());
  REQUIRE_FALSE(unknown);
  CHECK(unknown.error().message == "sheet 'overview': there is no symbol 'no-such-symbol'");

  diagram::Document flat = document_of(text_group("x"));
  flat.sheets[0].height = 0.0;
  CHECK_FALSE(render(flat, built_in_symbols()));
  CHECK_FALSE(render(document_of(text_group("x", {std::nan(""), 0.0})), built_in_symbols()));

  const Result<Drawing> drawing = render(document_of(text_group("配x配")), built_in_symbols());
  REQUIRE(drawing);
  REQUIRE(drawing->unreadable.size() == 1);
  CHECK(drawing->unreadable[0].missing == U"配");
  CHECK_FALSE(write_svg(*drawing, {.sheet = 1}));
}
