#include "drawing/symbol_rows.hpp"

#include <utility>

#include "units/ensure.hpp"

namespace linewright::drawing {
namespace {

std::size_t points_of(Segment::Kind kind) {
  switch (kind) {
    case Segment::Kind::move:
    case Segment::Kind::line:
      return 1;
    case Segment::Kind::cubic:
      return 3;
    case Segment::Kind::close:
      return 0;
  }
  return 0;
}

struct Packer {
  PackedSymbols out;

  void count(std::size_t n) { out.numbers.push_back(static_cast<double>(n)); }
  void number(double v) { out.numbers.push_back(v); }
  void point(Point p) {
    number(p.x);
    number(p.y);
  }

  void outline(const Outline& o) {
    number(o.width);
    count(o.round_ends ? 1 : 0);
    count(static_cast<std::size_t>(o.fill));
    count(o.dash.size());
    for (const double length : o.dash)
      number(length);
    count(o.path.size());
    for (const Segment& segment : o.path) {
      count(static_cast<std::size_t>(segment.kind));
      for (std::size_t i = 0; i < points_of(segment.kind); ++i)
        point(segment.points[i]);
    }
  }

  void symbol(const Symbol& s) {
    out.words.insert(out.words.end(), {s.name, s.title, s.description, s.family});
    point({s.canvas.x, s.canvas.y});
    point({s.canvas.width, s.canvas.height});
    count(s.outlines.size());
    for (const Outline& o : s.outlines)
      outline(o);
    count(s.texts.size());
    for (const SymbolText& text : s.texts) {
      out.words.push_back(text.text);
      point(text.at);
      number(text.height);
    }
    count(s.ports.size());
    for (const diagram::Port& port : s.ports) {
      out.words.push_back(port.name);
      point(port.at);
    }
  }
};

struct Unpacker {
  std::span<const double> numbers;
  std::span<const std::string_view> words;

  double number() {
    ENSURE(!numbers.empty());
    const double value = numbers.front();
    numbers = numbers.subspan(1);
    return value;
  }
  std::size_t count() { return static_cast<std::size_t>(number()); }
  Point point() {
    const double x = number();
    return {x, number()};
  }
  std::string word() {
    ENSURE(!words.empty());
    const std::string_view value = words.front();
    words = words.subspan(1);
    return std::string(value);
  }

  Outline outline() {
    Outline o;
    o.width = number();
    o.round_ends = count() == 1;
    o.fill = static_cast<Paint>(count());
    o.dash.resize(count());
    for (double& length : o.dash)
      length = number();
    o.path.resize(count());
    for (Segment& segment : o.path) {
      segment.kind = static_cast<Segment::Kind>(count());
      for (std::size_t i = 0; i < points_of(segment.kind); ++i)
        segment.points[i] = point();
    }
    return o;
  }

  Symbol symbol() {
    Symbol s;
    s.name = word();
    s.title = word();
    s.description = word();
    s.family = word();
    const Point corner = point();
    const Point size = point();
    s.canvas = {corner.x, corner.y, size.x, size.y};
    s.outlines.resize(count());
    for (Outline& o : s.outlines)
      o = outline();
    s.texts.resize(count());
    for (SymbolText& text : s.texts) {
      text.text = word();
      text.at = point();
      text.height = number();
    }
    s.ports.resize(count());
    for (diagram::Port& port : s.ports) {
      port.name = word();
      port.at = point();
    }
    return s;
  }
};

}  // namespace

PackedSymbols pack(const SymbolLibrary& symbols) {
  Packer packer;
  for (const auto& [name, symbol] : symbols)
    packer.symbol(symbol);
  return std::move(packer.out);
}

SymbolLibrary unpack(std::span<const double> numbers, std::span<const std::string_view> words) {
  Unpacker unpacker{numbers, words};
  SymbolLibrary out;
  while (!unpacker.words.empty()) {
    Symbol symbol = unpacker.symbol();
    out.emplace(symbol.name, std::move(symbol));
  }
  return out;
}

}  // namespace linewright::drawing
