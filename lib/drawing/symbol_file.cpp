#include "drawing/symbol_file.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>

#include <fmt/core.h>
#include <fmt/format.h>
#include <pugixml.hpp>

#include "drawing/path_data.hpp"

namespace linewright::drawing {
namespace {

constexpr std::size_t most_mistakes = 20;
constexpr double longest_side = 100.0;
constexpr std::size_t longest_title = 80;
constexpr std::size_t longest_description = 300;
constexpr int deepest_group = 8;
constexpr std::string_view port_prefix = "port-";

// Capital height over em of the lettering font, so that files can state the usual font-size.
constexpr double capital_height_per_em = 1456.0 / 2048.0;

// Presentation attributes, inherited from svg and g.
struct Style {
  Paint fill = Paint::ink;
  bool stroked = false;
  double width = 1.0;
  bool round_ends = false;
  std::vector<double> dash;
  double font_size = 0.0;
};

const std::vector<std::string_view>& known_attributes() {
  static const std::vector<std::string_view> names{"id",
                                                   "fill",
                                                   "stroke",
                                                   "stroke-width",
                                                   "stroke-linecap",
                                                   "stroke-linejoin",
                                                   "x",
                                                   "y",
                                                   "cx",
                                                   "cy",
                                                   "stroke-dasharray",
                                                   "font-size",
                                                   "r",
                                                   "rx",
                                                   "ry",
                                                   "x1",
                                                   "y1",
                                                   "x2",
                                                   "y2",
                                                   "d",
                                                   "points",
                                                   "width",
                                                   "height",
                                                   "font-family",
                                                   "xmlns",
                                                   "viewBox",
                                                   "text-anchor",
                                                   "data-family"};
  return names;
}

std::string at_offset(const SymbolFile& file, std::ptrdiff_t offset, std::string_view what) {
  const auto end = file.text.begin() + std::clamp<std::ptrdiff_t>(offset, 0, std::ssize(file.text));
  return fmt::format("{}:{}: {}", file.path, 1 + std::count(file.text.begin(), end, '\n'), what);
}

bool is_off_grid(double v) {
  return std::abs(v / module_mm - std::round(v / module_mm)) > 1e-9;
}

double on_grid(double v) {
  const double nearest = std::round(v / module_mm) * module_mm;
  return nearest == 0.0 ? 0.0 : nearest;  // never -0
}

bool holds(const Rect& outer, const Rect& inner) {
  constexpr double rounding = 1e-6;
  return inner.x >= outer.x - rounding && inner.y >= outer.y - rounding &&
         inner.x + inner.width <= outer.x + outer.width + rounding &&
         inner.y + inner.height <= outer.y + outer.height + rounding;
}

// A device in a column may be longer or shorter than the built-in one: lines go on below it.
bool is_lower_end(const Symbol& built_in, const diagram::Port& port) {
  return built_in.ports.size() == 2 && port.name == "2" && built_in.ports[0].name == "1" &&
         built_in.ports[0].at == Point{} && built_in.ports[1].at.x == 0.0 &&
         built_in.ports[1].at.y > 0.0;
}

struct Reader {
  const SymbolFile& file;
  const Symbol* built_in;
  Symbol symbol;
  std::vector<std::string> mistakes;
  std::map<std::string, pugi::xml_node, std::less<>> port_nodes;
  Rect ink;

  void refuse(pugi::xml_node node, std::string_view what) {
    if (mistakes.size() < most_mistakes)
      mistakes.push_back(at_offset(file, node.offset_debug(), what));
  }

  // Exactly `count` numbers of an attribute, without units.
  std::vector<double> numbers(pugi::xml_node node, const char* name, std::size_t count) {
    Result<std::vector<double>> list = parse_number_list(node.attribute(name).value());
    if (!list) {
      refuse(node, fmt::format("attribute '{}': {}", name, list.error().message));
      return std::vector<double>(count, 0.0);
    }
    if (list->size() != count) {
      refuse(node,
             fmt::format("attribute '{}' has {} numbers, must have {}", name, list->size(), count));
      list->resize(count, 0.0);
    }
    return *std::move(list);
  }
  double number(pugi::xml_node node, const char* name) {
    if (!node.attribute(name)) return 0.0;
    return numbers(node, name, 1).front();
  }
  double size(pugi::xml_node node, const char* name) {
    const double value = number(node, name);
    if (!(value > 0.0)) refuse(node, fmt::format("attribute '{}' must be more than 0", name));
    return value;
  }

  void check_attributes(pugi::xml_node node) {
    for (const pugi::xml_attribute attribute : node.attributes()) {
      const auto& names = known_attributes();
      if (std::find(names.begin(), names.end(), std::string_view(attribute.name())) == names.end())
        refuse(node, fmt::format("attribute '{}' is not supported", attribute.name()));
    }
    const std::string_view element = node.name();
    if (node.attribute("rx") && element == "rect") refuse(node, "round corners are not supported");
  }

  Style style_of(pugi::xml_node node, Style style) {
    const std::string_view fill = node.attribute("fill").value();
    if (fill == "none") {
      style.fill = Paint::none;
    } else if (fill == "currentColor") {
      style.fill = Paint::ink;
    } else if (fill == "white") {
      style.fill = Paint::paper;
    } else if (!fill.empty()) {
      refuse(node, fmt::format("fill '{}' must be none, currentColor or white", fill));
    }
    const std::string_view stroke = node.attribute("stroke").value();
    if (!stroke.empty()) style.stroked = stroke != "none";
    if (!stroke.empty() && stroke != "none" && stroke != "currentColor")
      refuse(node, fmt::format("stroke '{}' must be none or currentColor", stroke));
    if (node.attribute("stroke-width")) style.width = size(node, "stroke-width");
    if (node.attribute("font-size")) style.font_size = size(node, "font-size");
    const std::string_view cap = node.attribute("stroke-linecap").value();
    if (!cap.empty()) style.round_ends = cap == "round";
    if (!cap.empty() && cap != "round" && cap != "butt")
      refuse(node, fmt::format("stroke-linecap '{}' must be round or butt", cap));
    const std::string_view join = node.attribute("stroke-linejoin").value();
    if (!join.empty() && join != "round")
      refuse(node, fmt::format("stroke-linejoin '{}' must be round", join));
    read_dash(node, style);
    return style;
  }

  void read_dash(pugi::xml_node node, Style& style) {
    const std::string_view dash = node.attribute("stroke-dasharray").value();
    if (dash == "none") style.dash.clear();
    if (dash.empty() || dash == "none") return;
    const Result<std::vector<double>> list = parse_number_list(dash);
    const auto positive = [](double v) { return v > 0.0; };
    if (!list || list->size() % 2 != 0 || !std::all_of(list->begin(), list->end(), positive)) {
      return refuse(node, "stroke-dasharray must be pairs of numbers above 0");
    }
    style.dash = *list;
  }

  Path polyline_of(pugi::xml_node node, bool closed) {
    const Result<std::vector<double>> list = parse_number_list(node.attribute("points").value());
    if (!list || list->size() < 4 || list->size() % 2 != 0) {
      refuse(node, "attribute 'points' must be two or more pairs of numbers");
      return {};
    }
    std::vector<Point> points;
    for (std::size_t i = 0; i < list->size(); i += 2)
      points.push_back({(*list)[i], (*list)[i + 1]});
    return polyline(points, closed);
  }

  Path path_of(pugi::xml_node node) {
    const std::string_view element = node.name();
    if (element == "path") {
      Result<Path> path = parse_path_data(node.attribute("d").value());
      if (!path) refuse(node, "attribute 'd': " + path.error().message);
      return path ? *std::move(path) : Path{};
    }
    if (element == "line") {
      return polyline(
          {{number(node, "x1"), number(node, "y1")}, {number(node, "x2"), number(node, "y2")}},
          false);
    }
    if (element == "rect") {
      return rectangle(
          {number(node, "x"), number(node, "y"), size(node, "width"), size(node, "height")});
    }
    if (element == "polyline" || element == "polygon") {
      return polyline_of(node, element == "polygon");
    }
    const Point centre{number(node, "cx"), number(node, "cy")};
    const bool round = element == "circle";
    return ellipse(centre, size(node, round ? "r" : "rx"), size(node, round ? "r" : "ry"));
  }

  void read_port(pugi::xml_node node, std::string_view name) {
    const Point at{number(node, "cx"), number(node, "cy")};
    if (name.empty()) refuse(node, "a port needs a name after 'port-'");
    if (is_off_grid(at.x) || is_off_grid(at.y)) {
      refuse(node, fmt::format("port '{}' at ({}, {}) is off the 2.5 mm grid; the nearest point is "
                               "({}, {})",
                               name, at.x, at.y, on_grid(at.x), on_grid(at.y)));
    }
    for (const diagram::Port& other : symbol.ports) {
      if (other.name == name) refuse(node, fmt::format("port '{}' is there twice", name));
    }
    symbol.ports.push_back({std::string(name), {on_grid(at.x), on_grid(at.y)}});
    port_nodes.emplace(name, node);
  }

  void read_text(pugi::xml_node node, const Style& style) {
    if (node.first_child() != node.last_child() || node.text().empty())
      return refuse(node, "a text holds characters only");
    if (std::string_view(node.attribute("text-anchor").value()) != "middle")
      refuse(node, "a text must have text-anchor=\"middle\"");
    if (style.font_size <= 0.0) refuse(node, "a text needs a font-size");
    const double height = std::round(style.font_size * capital_height_per_em * 100.0) / 100.0;
    symbol.texts.push_back({{number(node, "x"), number(node, "y")}, node.text().get(), height});
  }

  void read_shape(pugi::xml_node node, const Style& inherited) {
    const std::string_view id = node.attribute("id").value();
    if (std::string_view(node.name()) == "circle" && id.starts_with(port_prefix))
      return read_port(node, id.substr(port_prefix.size()));
    const std::size_t before = mistakes.size();
    const Style style = style_of(node, inherited);
    Outline outline;
    outline.path = path_of(node);
    outline.fill = style.fill;
    outline.width = style.stroked ? style.width : 0.0;
    outline.dash = style.dash;
    outline.round_ends = style.round_ends;
    if (outline.path.empty() && mistakes.size() == before) refuse(node, "the outline is empty");
    check_canvas(node, outline);
    symbol.outlines.push_back(std::move(outline));
  }

  std::string words(pugi::xml_node node, std::size_t most) {
    std::string text = node.text().get();
    if (text.size() > most)
      refuse(node, fmt::format("{} is longer than {} bytes", node.name(), most));
    return text;
  }

  void read_element(pugi::xml_node node, const Style& inherited, int depth) {
    check_attributes(node);
    const std::string_view element = node.name();
    if (element == "title") {
      symbol.title = words(node, longest_title);
    } else if (element == "desc") {
      symbol.description = words(node, longest_description);
    } else if (element == "g" && depth < deepest_group) {
      read_children(node, style_of(node, inherited), depth + 1);
    } else if (element == "text") {
      read_text(node, style_of(node, inherited));
    } else if (element == "path" || element == "line" || element == "rect" || element == "circle" ||
               element == "ellipse" || element == "polyline" || element == "polygon") {
      read_shape(node, inherited);
    } else {
      refuse(node, fmt::format("element '{}' is not supported here", element));
    }
  }

  void read_children(pugi::xml_node parent, const Style& style, int depth) {
    for (const pugi::xml_node node : parent.children()) {
      if (node.type() != pugi::node_element) {
        refuse(node, "text stands outside a text element");
        return;
      }
      read_element(node, style, depth);
    }
  }

  void read_canvas(pugi::xml_node root) {
    const std::vector<double> box = numbers(root, "viewBox", 4);
    symbol.canvas = {box[0], box[1], box[2], box[3]};
    const auto fits = [](double side) { return side > 0.0 && side <= longest_side; };
    if (!fits(box[2]) || !fits(box[3])) {
      refuse(root, fmt::format("the viewBox is {} by {}, must be more than 0 and up to {} each way",
                               box[2], box[3], longest_side));
    }
    const auto mm = [](double v) { return fmt::format("{}mm", v); };
    if (root.attribute("width").value() != mm(box[2]) ||
        root.attribute("height").value() != mm(box[3])) {
      refuse(root, fmt::format("width and height must be {} and {} as in the viewBox, so that one "
                               "unit is one millimetre",
                               mm(box[2]), mm(box[3])));
    }
  }

  void read_document(pugi::xml_node root) {
    if (std::string_view(root.name()) != "svg") return refuse(root, "the root element must be svg");
    check_attributes(root);
    read_canvas(root);
    read_children(root, style_of(root, Style{}), 0);
    read_family(root);
    if (symbol.title.empty()) refuse(root, "a symbol needs a title");
    if (symbol.ports.empty()) refuse(root, "a symbol needs a port");
    if (symbol.outlines.empty()) refuse(root, "a symbol needs an outline");
    if (mistakes.empty()) check_port_ends();
    if (built_in != nullptr) compare_ports(root);
  }

  // A symbol in place of a built-in one is of its family unless it says otherwise.
  void read_family(pugi::xml_node root) {
    const std::string_view family = root.attribute("data-family").value();
    symbol.family = family.empty() && built_in != nullptr ? built_in->family : std::string(family);
    if (family.empty()) return;
    if (std::find(symbol_families.begin(), symbol_families.end(), family) == symbol_families.end())
      refuse(root, fmt::format("data-family '{}' must be one of {}", family,
                               fmt::join(symbol_families, ", ")));
  }

  void check_canvas(pugi::xml_node node, const Outline& outline) {
    if (outline.path.empty()) return;
    const Rect one = grown(bounds(outline.path), outline.width / 2.0);
    ink = unite(ink, one);
    if (!holds(symbol.canvas, one)) refuse(node, "the outline reaches beyond the viewBox");
  }

  void check_port_ends() {
    for (const diagram::Port& port : symbol.ports) {
      if (!holds(ink, {port.at.x, port.at.y, 0.0, 0.0}))
        refuse(port_nodes.find(port.name)->second,
               fmt::format("port '{}' at ({}, {}) is away from the outlines, so a wire would end "
                           "at nothing",
                           port.name, port.at.x, port.at.y));
    }
  }

  // The layout knows where the lines of a built-in symbol end.
  void compare_ports(pugi::xml_node root) {
    for (const diagram::Port& wanted : built_in->ports) {
      const auto found =
          std::find_if(symbol.ports.begin(), symbol.ports.end(),
                       [&](const diagram::Port& port) { return port.name == wanted.name; });
      if (found == symbol.ports.end()) {
        refuse(root, fmt::format("port '{}' is missing; the built-in symbol has it at ({}, {})",
                                 wanted.name, wanted.at.x, wanted.at.y));
      } else if (is_lower_end(*built_in, wanted)) {
        if (found->at.x != 0.0 || found->at.y < module_mm)
          refuse(port_nodes.find(wanted.name)->second,
                 fmt::format("port '2' at ({}, {}) must be straight below (0, 0), as in the "
                             "built-in symbol",
                             found->at.x, found->at.y));
      } else if (!(found->at == wanted.at)) {
        refuse(port_nodes.find(wanted.name)->second,
               fmt::format("port '{}' at ({}, {}) must be at ({}, {}), as in the built-in symbol",
                           wanted.name, found->at.x, found->at.y, wanted.at.x, wanted.at.y));
      }
    }
  }
};

// "fuse" of "my symbols/fuse.svg".
std::string_view stem_of(std::string_view path) {
  path.remove_prefix(path.find_last_of('/') + 1);
  return path.substr(0, path.rfind('.'));
}

}  // namespace

SymbolResult parse_symbol(const SymbolFile& file, const Symbol* built_in) {
  const auto refused = [](std::string what) {
    return tl::unexpected(std::vector<std::string>{std::move(what)});
  };
  if (file.text.size() > largest_symbol_file)
    return refused(
        fmt::format("{}: the file is larger than {} bytes", file.path, largest_symbol_file));
  pugi::xml_document document;
  const pugi::xml_parse_result parsed = document.load_buffer(
      file.text.data(), file.text.size(), pugi::parse_default, pugi::encoding_utf8);
  if (!parsed) return refused(at_offset(file, parsed.offset, parsed.description()));
  Reader reader{file, built_in, {}, {}, {}, {}};
  reader.symbol.name = stem_of(file.path);
  reader.read_document(document.document_element());
  if (!reader.mistakes.empty()) return tl::unexpected(std::move(reader.mistakes));
  return std::move(reader.symbol);
}

}  // namespace linewright::drawing
