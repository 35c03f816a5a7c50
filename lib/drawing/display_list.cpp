#include "drawing/display_list.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>
#include <unordered_map>
#include <utility>

#include <fmt/core.h>

#include "drawing/unicode.hpp"

namespace linewright::drawing {
namespace {

// Beyond 200 inches PDF would need another unit.
constexpr double largest_sheet = 5080.0;

/// Where a group of the document is.
struct Place {
  std::size_t sheet = 0;
  std::string mark;
};

/// Where sheets and groups are, by name and id; the first of a name on a sheet counts.
class Places {
 public:
  explicit Places(const Drawing& drawing) {
    for (std::size_t i = 0; i < drawing.sheets.size(); ++i) {
      sheets_.emplace(drawing.sheets[i].name, i);
      for (const DrawnGroup& group : drawing.sheets[i].groups) {
        if (group.id.empty()) continue;
        std::vector<Place>& known = groups_[group.id];
        if (known.empty() || known.back().sheet != i) known.push_back({i, group.mark});
      }
    }
  }

  // An id alone is looked for on the other sheets first, for a link leads away.
  std::optional<Place> find(std::size_t from, const std::string& target) const {
    if (const std::size_t hash = target.find('#'); hash != std::string::npos) {
      const auto named = find_named(target.substr(0, hash), target.substr(hash + 1));
      if (named) return named;
    }
    const auto known = groups_.find(target);
    if (known == groups_.end()) return {};
    const auto away = std::find_if(known->second.begin(), known->second.end(),
                                   [&](const Place& place) { return place.sheet != from; });
    return away != known->second.end() ? *away : known->second.front();
  }

 private:
  // "sheet#id" or "sheet#".
  std::optional<Place> find_named(const std::string& sheet, const std::string& id) const {
    const auto at = sheets_.find(sheet);
    if (at == sheets_.end()) return {};
    if (id.empty()) return Place{at->second, {}};
    const auto known = groups_.find(id);
    if (known == groups_.end()) return {};
    for (const Place& place : known->second)
      if (place.sheet == at->second) return place;
    return {};
  }

  std::unordered_map<std::string, std::size_t> sheets_;
  std::unordered_map<std::string, std::vector<Place>> groups_;
};

/// Lettering that was shaped before: the same few words stand on every sheet.
using KnownLettering = std::map<std::tuple<diagram::Weight, double, std::string>, ShapedText>;

/// What every sheet is rendered with.
struct Means {
  const SymbolLibrary& symbols;
  Palette palette = Palette::colour;
  KnownLettering known;
};

struct Renderer {
  Means& means;
  Drawing& drawing;
  DisplayList& sheet;
  DrawnGroup* group = nullptr;
  std::optional<Failure> failure;

  void check(std::initializer_list<double> values) {
    for (const double value : values) {
      if (!std::isfinite(value) && !failure)
        failure = Failure{fmt::format("sheet '{}': a coordinate is not a number", sheet.name)};
    }
  }
  void check(const Rect& r) { check({r.x, r.y, r.width, r.height}); }

  void add(Mark mark) { group->marks.push_back(std::move(mark)); }

  void draw(const diagram::Polyline& line) {
    for (const Point& p : line.points)
      check({p.x, p.y});
    Shape shape{
        polyline(line.points, line.closed), pen_of(line.stroke, line.source, means.palette), {}};
    shape.fill = fill_colour(line.fill, means.palette);
    if (line.points.size() > 1) add(std::move(shape));
  }

  void draw(const diagram::Box& box) {
    check(box.rect);
    Shape shape{rectangle(box.rect, corner_radius(box.stroke)), {}, {}};
    if (box.outlined) shape.pen = pen_of(box.stroke, box.source, means.palette);
    shape.fill = fill_colour(box.fill, means.palette);
    if (shape.pen || shape.fill) add(std::move(shape));
  }

  void draw(const diagram::Dot& dot) {
    check({dot.at.x, dot.at.y, dot.diameter});
    add(Disc{dot.at, dot.diameter, black});
  }

  void note_unreadable(const Lettering& text) {
    UnreadableText note{sheet.name, group->id.empty() ? group->title : group->id, text.text, {}};
    for (const char32_t c : text.shaped.missing) {
      if (note.missing.find(c) == std::u32string::npos) note.missing += c;
    }
    const auto& known = drawing.unreadable;
    if (std::find(known.begin(), known.end(), note) == known.end())
      drawing.unreadable.push_back(std::move(note));
  }

  void draw(const diagram::Text& text) {
    check({text.at.x, text.at.y, text.height});
    if (text.ink == diagram::Ink::none) return;
    Lettering out;
    out.at = text.at;
    out.text = clean_text(text.text);
    const auto [at, is_new] = means.known.try_emplace({text.weight, text.height, out.text});
    if (is_new) at->second = shape(out.text, text.height, text.weight, drawing.fonts);
    out.shaped = at->second;
    out.size = font_size(text.height);
    out.weight = text.weight;
    out.colour = lettering_colour(text.ink, means.palette);
    out.anchor = text.anchor;
    out.turn = text.turn;
    if (!out.shaped.missing.empty()) note_unreadable(out);
    if (!out.text.empty()) add(std::move(out));
  }

  // Turned clockwise; y points down, so (x, y) goes to (-y, x).
  static Point turned(Point p, int quarter_turns) {
    for (int i = 0; i < quarter_turns; ++i)
      p = {-p.y, p.x};
    return p;
  }

  void draw(const diagram::SymbolUse& use) {
    check({use.at.x, use.at.y});
    const auto found = means.symbols.find(use.symbol);
    if (found == means.symbols.end()) {
      if (!failure) {
        failure =
            Failure{fmt::format("sheet '{}': there is no symbol '{}'", sheet.name, use.symbol)};
      }
      return;
    }
    const Symbol& symbol = found->second;
    sheet.symbols.emplace(symbol.name, symbol);
    const int turns = ((use.quarter_turns % 4) + 4) % 4;
    add(Placement{symbol.name, use.at, turns});
    for (const SymbolText& mark : symbol.texts) {
      // The middle of the capitals turns with the symbol, the letters stay upright.
      const Point middle = turned({mark.at.x, mark.at.y - mark.height / 2.0}, turns);
      diagram::Text text;
      text.at = {use.at.x + middle.x, use.at.y + middle.y + mark.height / 2.0};
      text.text = mark.text;
      text.height = mark.height;
      text.anchor = diagram::Anchor::middle;
      draw(text);
    }
  }

  // Targets are found when all sheets are there; until then the mark is the target itself.
  void draw(const diagram::Link& link) {
    check(link.area);
    add(Jump{link.area, 0, link.target, {}});
  }
};

std::string unique_mark(std::string_view id, std::set<std::string>& taken) {
  if (id.empty()) return {};
  const std::string base = mark_of(id);
  std::string mark = base;
  for (int i = 2; !taken.insert(mark).second; ++i)
    mark = fmt::format("{}.{}", base, i);
  return mark;
}

std::optional<Failure> render_sheet(const diagram::Sheet& in, Means& means, Drawing& drawing) {
  const auto fits = [](double size) { return size > 0.0 && size <= largest_sheet; };
  if (!fits(in.width) || !fits(in.height))
    return Failure{fmt::format("sheet '{}' is {} x {} mm, must be up to {} mm", in.name, in.width,
                               in.height, largest_sheet)};
  DisplayList out;
  out.name = clean_text(in.name);
  out.title = clean_text(in.title);
  out.width = in.width;
  out.height = in.height;
  std::set<std::string> taken;
  Renderer renderer{means, drawing, out, nullptr, {}};
  for (const diagram::Group& group : in.groups) {
    DrawnGroup drawn;
    drawn.kind = group.kind;
    drawn.id = clean_text(group.id);
    drawn.mark = unique_mark(drawn.id, taken);
    drawn.title = clean_text(group.title);
    drawn.description = clean_text(group.description);
    for (const auto& [key, value] : group.data)
      drawn.data.emplace(key, clean_text(value));
    renderer.group = &drawn;
    for (const diagram::Item& item : group.items) {
      std::visit([&](const auto& one) { renderer.draw(one); }, item);
    }
    out.groups.push_back(std::move(drawn));
  }
  drawing.sheets.push_back(std::move(out));
  return renderer.failure;
}

void resolve_links(Drawing& drawing) {
  std::set<std::string> dead;
  const Places places(drawing);
  for (std::size_t i = 0; i < drawing.sheets.size(); ++i) {
    for (DrawnGroup& group : drawing.sheets[i].groups) {
      std::vector<Mark> kept;
      for (Mark& mark : group.marks) {
        if (Jump* jump = std::get_if<Jump>(&mark)) {
          const std::string target = clean_text(jump->mark);
          const std::optional<Place> place = places.find(i, target);
          if (!place) {
            dead.insert(target);
            continue;
          }
          *jump = {jump->area, place->sheet, place->mark, target};
        }
        kept.push_back(std::move(mark));
      }
      group.marks = std::move(kept);
    }
  }
  drawing.dead_links.assign(dead.begin(), dead.end());
}

}  // namespace

Result<Drawing> render(const diagram::Document& document, const SymbolLibrary& symbols,
                       Palette palette, const FontSet& fonts) {
  Drawing drawing;
  drawing.fonts = fonts;
  drawing.title = clean_text(document.title);
  drawing.subject = clean_text(document.subject);
  drawing.author = clean_text(document.author);
  drawing.language = clean_text(document.language);
  drawing.date = document.date;
  Means means{symbols, palette, {}};
  for (const diagram::Sheet& sheet : document.sheets) {
    if (const std::optional<Failure> failure = render_sheet(sheet, means, drawing))
      return tl::unexpected(*failure);
  }
  resolve_links(drawing);
  return drawing;
}

Result<Drawing> render(const diagram::Sheet& sheet, const SymbolLibrary& symbols) {
  diagram::Document document;
  document.title = sheet.title;
  document.sheets.push_back(sheet);
  return render(document, symbols);
}

std::string mark_of(std::string_view id) {
  std::string out = "id";
  for (const char c : id) {
    const bool plain =
        (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '-';
    if (plain) {
      out += c;
    } else {
      out += fmt::format("_{:02X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
    }
  }
  return out;
}

}  // namespace linewright::drawing
