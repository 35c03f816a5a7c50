#include "drawing/svg.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include <fmt/core.h>

#include "drawing/font_subset.hpp"
#include "drawing/unicode.hpp"
#include "drawing/xml.hpp"

namespace linewright::drawing {
namespace {

// Viewers that ignore @font-face look for an installed font that is as narrow.
constexpr std::string_view font_families =
    "'Linewright Lettering','Linewright Signs','Roboto Condensed','Arial Narrow',"
    "'DejaVu Sans Condensed','DejaVu Sans',sans-serif";

std::string family_of(Face face) {
  if (face < Face::fallback) return "Linewright Lettering";
  if (face < Face::first_given) return "Linewright Signs";
  return fmt::format("Linewright Given {}",
                     static_cast<int>(face) - static_cast<int>(Face::first_given) + 1);
}

// The weights that an embedded font serves; one of the user serves all, so that no viewer thickens
// it by itself.
std::string_view weights_of(Face face) {
  if (face >= Face::first_given) return "1 1000";
  return face == Face::lettering_bold || face == Face::fallback_bold ? "700" : "400";
}

// The families of a line that needs fonts of the user, in the order of their use.
std::string families_of(const ShapedText& text) {
  std::string out = "'Linewright Lettering','Linewright Signs'";
  bool any = false;
  for (const GlyphRun& run : text.runs) {
    if (run.face < Face::first_given) continue;
    const std::string family = "'" + family_of(run.face) + "'";
    if (out.find(family) == std::string::npos) out += "," + family;
    any = true;
  }
  return any ? out + ",sans-serif" : std::string();
}

// Where a line is held, in the words of SVG, whose start is the right end of a line that is read
// from right to left.
std::string_view text_anchor(const Lettering& text) {
  if (text.anchor == diagram::Anchor::middle) return "middle";
  const bool at_start = (text.anchor == diagram::Anchor::start) != text.shaped.right_to_left;
  return at_start ? "" : "end";
}

std::string colour_code(Colour c) {
  if (c == black) return "#000";
  if (c == white) return "#fff";
  return fmt::format("#{:02x}{:02x}{:02x}", c.red, c.green, c.blue);
}

struct Writer {
  const Drawing& drawing;
  const SvgOptions& options;
  const DisplayList& sheet;
  std::string out;

  void attribute(std::string_view name, std::string_view value) {
    out += fmt::format(" {}=\"{}\"", name, escape_xml(value));
  }
  void attribute(std::string_view name, double value) {
    out += fmt::format(" {}=\"{}\"", name, svg_number(value));
  }
  void text_element(std::string_view name, std::string_view text) {
    if (!text.empty()) out += fmt::format("<{0}>{1}</{0}>", name, escape_xml(text));
  }

  // Absolute commands; H and V where a line runs along an axis.
  static std::string line_data(Point from, Point to) {
    if (to.y == from.y) return "H" + svg_number(to.x);
    if (to.x == from.x) return "V" + svg_number(to.y);
    return "L" + point_data(to);
  }
  static std::string point_data(Point p) { return svg_number(p.x) + " " + svg_number(p.y); }

  void path_data(const Path& path) {
    std::string d;
    Point at;
    Point start;
    for (const Segment& segment : path) {
      const auto& p = segment.points;
      switch (segment.kind) {
        case Segment::Kind::move:
          d += "M" + point_data(p[0]);
          at = start = p[0];
          break;
        case Segment::Kind::line:
          d += line_data(at, p[0]);
          at = p[0];
          break;
        case Segment::Kind::cubic:
          d += "C" + point_data(p[0]) + " " + point_data(p[1]) + " " + point_data(p[2]);
          at = p[2];
          break;
        case Segment::Kind::close:
          d += "Z";
          at = start;
          break;
      }
    }
    attribute("d", d);
  }

  void pen_attributes(const Pen& pen) {
    attribute("stroke", colour_code(pen.colour));
    attribute("stroke-width", pen.width);
    if (pen.round_ends) attribute("stroke-linecap", "round");
    if (pen.dash.empty()) return;
    std::string dash;
    for (const double length : pen.dash)
      dash += (dash.empty() ? "" : " ") + svg_number(length);
    attribute("stroke-dasharray", dash);
  }

  void paint_attributes(const std::optional<Pen>& pen, const std::optional<Colour>& fill) {
    if (!fill) attribute("fill", "none");
    if (fill && *fill != black) attribute("fill", colour_code(*fill));
    if (pen) pen_attributes(*pen);
  }

  void symbol_definition(const Symbol& symbol) {
    out += "<symbol";
    attribute("id", "symbol-" + symbol.name);
    attribute("overflow", "visible");
    out += ">";
    text_element("title", symbol.title);
    for (const Outline& outline : symbol.outlines) {
      out += "<path";
      std::optional<Pen> pen;
      if (outline.width > 0.0) pen = Pen{outline.width, black, outline.dash, outline.round_ends};
      std::optional<Colour> fill;
      if (outline.fill != Paint::none) fill = outline.fill == Paint::ink ? black : white;
      paint_attributes(pen, fill);
      path_data(outline.path);
      out += "/>";
    }
    out += "</symbol>\n";
  }

  void draw(const Shape& shape) {
    out += "<path";
    paint_attributes(shape.pen, shape.fill);
    path_data(shape.path);
    out += "/>";
  }

  void draw(const Disc& disc) {
    out += "<circle";
    attribute("cx", disc.centre.x);
    attribute("cy", disc.centre.y);
    attribute("r", disc.diameter / 2.0);
    if (disc.colour != black) attribute("fill", colour_code(disc.colour));
    out += "/>";
  }

  void draw(const Lettering& text) {
    out += "<text";
    attribute("x", text.at.x);
    attribute("y", text.at.y);
    attribute("font-size", text.size);
    if (text.weight == diagram::Weight::bold) attribute("font-weight", "bold");
    if (const std::string families = families_of(text.shaped); !families.empty())
      attribute("font-family", families);
    if (text.shaped.right_to_left) attribute("direction", "rtl");
    if (const std::string_view anchor = text_anchor(text); !anchor.empty())
      attribute("text-anchor", anchor);
    if (text.colour != black) attribute("fill", colour_code(text.colour));
    if (text.turn == diagram::Turn::from_the_right) {
      attribute("transform",
                fmt::format("rotate(-90 {} {})", svg_number(text.at.x), svg_number(text.at.y)));
    }
    const bool spaced = text.text.find("  ") != std::string::npos || text.text.front() == ' ' ||
                        text.text.back() == ' ';
    if (spaced) attribute("xml:space", "preserve");
    out += ">" + escape_xml(text.text) + "</text>";
  }

  void draw(const Placement& placement) {
    out += "<use";
    attribute("href", "#symbol-" + placement.symbol);
    if (placement.quarter_turns == 0) {
      attribute("x", placement.at.x);
      attribute("y", placement.at.y);
    } else {
      attribute("transform", fmt::format("translate({} {}) rotate({})", svg_number(placement.at.x),
                                         svg_number(placement.at.y), 90 * placement.quarter_turns));
    }
    out += "/>";
  }

  std::string address(const Jump& jump) const {
    const std::string fragment = jump.mark.empty() ? "" : "#" + jump.mark;
    if (jump.sheet == options.sheet) return fragment.empty() ? "#" : fragment;
    const bool named = jump.sheet < options.file_names.size();
    const std::string file =
        named ? options.file_names[jump.sheet] : drawing.sheets[jump.sheet].name + ".svg";
    return percent_encoded(file) + fragment;
  }

  // A file name as a relative address; the "./" keeps "a:b" from being read as a scheme.
  static std::string percent_encoded(std::string_view file) {
    std::string out = file.find(':') == std::string_view::npos ? "" : "./";
    for (const char c : file) {
      const bool plain = (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') ||
                         (c >= 'a' && c <= 'z') ||
                         std::string_view("-._~/").find(c) != std::string_view::npos;
      out += plain ? std::string(1, c)
                   : fmt::format("%{:02X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
    }
    return out;
  }

  void draw(const Jump& jump) {
    out += "<a";
    attribute("href", address(jump));
    out += ">";
    text_element("title", jump.title);
    out += "<rect";
    attribute("x", jump.area.x);
    attribute("y", jump.area.y);
    attribute("width", jump.area.width);
    attribute("height", jump.area.height);
    out += " fill-opacity=\"0\"/></a>";
  }

  // Attribute names come from our own code, but nothing unsafe may pass.
  static bool safe_name(std::string_view name) {
    return !name.empty() && std::all_of(name.begin(), name.end(), [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
    });
  }

  // All conductors of a run that are drawn with one pen make one path, so that it can be found.
  void draw_run(const DrawnGroup& group) {
    std::vector<Shape> lines;
    for (const Mark& mark : group.marks) {
      const Shape* shape = std::get_if<Shape>(&mark);
      if (shape == nullptr || shape->fill) continue;
      const auto same = std::find_if(lines.begin(), lines.end(),
                                     [&](const Shape& l) { return l.pen == shape->pen; });
      if (same == lines.end()) {
        lines.push_back(*shape);
      } else {
        same->path.insert(same->path.end(), shape->path.begin(), shape->path.end());
      }
    }
    for (const Shape& line : lines) {
      out += "<path class=\"run\"";
      for (const char* end : {"from", "to"}) {
        const auto found = group.data.find(end);
        if (found != group.data.end()) attribute(fmt::format("data-{}", end), found->second);
      }
      paint_attributes(line.pen, line.fill);
      path_data(line.path);
      out += "/>";
    }
  }

  void draw_group(const DrawnGroup& group) {
    const bool run = group.kind == "run";
    out += "<g";
    attribute("class", run ? "cable" : group.kind);
    if (!group.mark.empty()) {
      attribute("id", group.mark);
      attribute("data-id", group.id);
    }
    for (const auto& [key, value] : group.data) {
      if (safe_name(key) && key != "id") attribute("data-" + key, value);
    }
    if (group.kind == "element") attribute("role", "graphics-symbol");
    out += ">";
    text_element("title", group.title);
    text_element("desc", group.description);
    if (run) draw_run(group);
    for (const Mark& mark : group.marks) {
      const Shape* shape = std::get_if<Shape>(&mark);
      if (run && shape != nullptr && !shape->fill) continue;
      std::visit([this](const auto& one) { draw(one); }, mark);
    }
    out += "</g>\n";
  }

  std::map<Face, std::u32string> used_characters() const {
    std::map<Face, std::set<char32_t>> used;
    for (const DrawnGroup& group : sheet.groups) {
      for (const Mark& mark : group.marks) {
        const Lettering* text = std::get_if<Lettering>(&mark);
        if (text == nullptr) continue;
        for (const GlyphRun& run : text->shaped.runs) {
          for (const char32_t c : decode_utf8(run.text))
            used[run.face].insert(c);
        }
      }
    }
    std::map<Face, std::u32string> lists;
    for (const auto& [face, characters] : used)
      lists.emplace(face, std::u32string(characters.begin(), characters.end()));
    return lists;
  }

  void font_faces() {
    out += "<style>";
    for (const auto& [face, characters] : used_characters()) {
      const std::string bytes = subset_font(drawing.fonts, face, characters);
      const bool compact = bytes.starts_with("OTTO");
      out += fmt::format(
          "\n@font-face{{font-family:'{}';font-weight:{};"
          "src:url(data:font/{};base64,{}) format('{}')}}",
          family_of(face), weights_of(face), compact ? "otf" : "ttf", base64(bytes),
          compact ? "opentype" : "truetype");
    }
    out += "\n</style>\n";
  }

  void document() {
    out += "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"";
    attribute("width", svg_number(sheet.width) + "mm");
    attribute("height", svg_number(sheet.height) + "mm");
    attribute("viewBox",
              fmt::format("0 0 {} {}", svg_number(sheet.width), svg_number(sheet.height)));
    // The graphics roles let a screen reader go into the drawing; "img" would close it.
    attribute("role", "graphics-document document");
    if (!drawing.language.empty()) attribute("xml:lang", drawing.language);
    attribute("font-family", font_families);
    out += " stroke-linejoin=\"round\">\n";
    text_element("title", sheet.title.empty() ? drawing.title : sheet.title);
    text_element("desc", drawing.subject);
    out += "\n";
    font_faces();
    out += "<defs>\n";
    for (const auto& [name, symbol] : sheet.symbols)
      symbol_definition(symbol);
    out += "</defs>\n<rect";
    attribute("width", sheet.width);
    attribute("height", sheet.height);
    out += " fill=\"#fff\"/>\n";
    for (const DrawnGroup& group : sheet.groups)
      draw_group(group);
    out += "</svg>\n";
  }
};

}  // namespace

Result<std::string> write_svg(const Drawing& drawing, const SvgOptions& options) {
  if (options.sheet >= drawing.sheets.size())
    return fail(fmt::format("there is no sheet {}", options.sheet + 1));
  Writer writer{drawing, options, drawing.sheets[options.sheet], {}};
  writer.document();
  return std::move(writer.out);
}

}  // namespace linewright::drawing
