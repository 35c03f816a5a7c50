#include "drawing/path_data.hpp"

#include <charconv>
#include <cmath>
#include <string>
#include <system_error>

#include <fmt/core.h>

namespace linewright::drawing {
namespace {

constexpr std::size_t most_segments = 10'000;
constexpr double largest_number = 1e6;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// Reads tokens from left to right; after the first mistake it stays at it.
struct Scanner {
  std::string_view text;
  std::size_t at = 0;
  std::string mistake;

  bool ok() const { return mistake.empty(); }
  void wrong(std::string_view what) {
    if (ok()) mistake = fmt::format("column {}: {}", at + 1, what);
  }
  void skip_space() {
    while (at < text.size() && (text[at] == ' ' || text[at] == '\t' || text[at] == '\n' ||
                                text[at] == '\r' || text[at] == '\f')) {
      ++at;
    }
  }
  void skip_separator() {
    skip_space();
    if (at < text.size() && text[at] == ',') {
      ++at;
      skip_space();
    }
  }
  bool at_end() {
    skip_space();
    return at >= text.size();
  }
  bool at_number() {
    skip_space();
    if (at >= text.size()) return false;
    const char c = text[at];
    return is_digit(c) || c == '.' || c == '-' || c == '+' || c == ',';
  }

  // std::from_chars knows no plus sign and takes "inf"; it stops where "1-2" and ".5.5" divide.
  double number() {
    skip_separator();
    std::size_t begin = at;
    if (begin < text.size() && text[begin] == '+') ++begin;
    const std::size_t digits =
        begin < text.size() && text[begin] == '-' && begin == at ? begin + 1 : begin;
    const bool starts_well =
        digits < text.size() &&
        (is_digit(text[digits]) ||
         (text[digits] == '.' && digits + 1 < text.size() && is_digit(text[digits + 1])));
    double value = 0.0;
    if (!starts_well) {
      wrong("expected a number");
      return 0.0;
    }
    const auto [end, error] =
        std::from_chars(text.data() + begin, text.data() + text.size(), value);
    if (error != std::errc{} || !(std::abs(value) <= largest_number)) {
      wrong("number is out of range");
      return 0.0;
    }
    at = static_cast<std::size_t>(end - text.data());
    return value;
  }

  // A flag is one character, and the next one may follow at once: "a5 5 0 01 10 0".
  bool flag() {
    skip_separator();
    if (at >= text.size() || (text[at] != '0' && text[at] != '1')) {
      wrong("expected a flag, 0 or 1");
      return false;
    }
    return text[at++] == '1';
  }
};

struct Reader {
  Scanner in;
  Path path;
  Point current;
  Point part_start;
  Point last_cubic_control;      // where S mirrors, else the current point
  Point last_quadratic_control;  // where T mirrors, else the current point

  Point point(bool relative) {
    const double x = in.number();
    const double y = in.number();
    return relative ? Point{current.x + x, current.y + y} : Point{x, y};
  }
  void arrive(Point to) { current = last_cubic_control = last_quadratic_control = to; }
  void line(Point to) {
    path.push_back(line_to(to));
    arrive(to);
  }
  void cubic(Point first, Point second, Point to) {
    path.push_back(cubic_to(first, second, to));
    arrive(to);
    last_cubic_control = second;
  }
  void quadratic(Point control, Point to) {
    const auto third = [&](Point end) {
      return Point{end.x + 2.0 / 3.0 * (control.x - end.x),
                   end.y + 2.0 / 3.0 * (control.y - end.y)};
    };
    path.push_back(cubic_to(third(current), third(to), to));
    arrive(to);
    last_quadratic_control = control;
  }
  Point mirrored(Point control) const {
    return {2.0 * current.x - control.x, 2.0 * current.y - control.y};
  }
  void move(bool relative) {
    const Point to = point(relative);
    path.push_back(move_to(to));
    arrive(to);
    part_start = to;
  }
  void elliptic(bool relative) {
    Arc a;
    a.from = current;
    a.radius_x = in.number();
    a.radius_y = in.number();
    a.rotation_degrees = in.number();
    a.large = in.flag();
    a.clockwise = in.flag();
    a.to = point(relative);
    if (!in.ok()) return;
    for (const Segment& segment : arc(a))
      path.push_back(segment);
    arrive(a.to);
  }

  void step(char command, bool relative) {
    switch (command) {
      case 'M':
        return move(relative);
      case 'L':
        return line(point(relative));
      case 'H':
        return line({in.number() + (relative ? current.x : 0.0), current.y});
      case 'V':
        return line({current.x, in.number() + (relative ? current.y : 0.0)});
      case 'A':
        return elliptic(relative);
      case 'C': {
        const Point first = point(relative);
        const Point second = point(relative);
        return cubic(first, second, point(relative));
      }
      case 'S': {
        const Point first = mirrored(last_cubic_control);
        const Point second = point(relative);
        return cubic(first, second, point(relative));
      }
      case 'Q': {
        const Point control = point(relative);
        return quadratic(control, point(relative));
      }
      default:
        return quadratic(mirrored(last_quadratic_control), point(relative));  // T
    }
  }

  // One command with as many sets of numbers as follow it.
  void repeat(char command, bool relative) {
    if (std::string_view("MLHVCSQTA").find(command) == std::string_view::npos)
      return in.wrong(fmt::format("'{}' is not a path command", in.text[in.at]));
    ++in.at;
    do {
      if (path.size() >= most_segments) return in.wrong("the path is too long");
      step(command, relative);
      if (command == 'M') command = 'L';  // further pairs after M are lines
    } while (in.ok() && in.at_number());
  }

  void run() {
    while (in.ok() && !in.at_end()) {
      char command = in.text[in.at];
      const bool relative = command >= 'a' && command <= 'z';
      if (relative) command = static_cast<char>(command - 'a' + 'A');
      if (path.empty() && command != 'M') return in.wrong("a path begins with M");
      if (command == 'Z') {
        ++in.at;
        path.push_back(close_part());
        arrive(part_start);
        continue;
      }
      repeat(command, relative);
    }
  }
};

}  // namespace

Result<Path> parse_path_data(std::string_view text) {
  Reader reader;
  reader.in.text = text;
  reader.run();
  if (!reader.in.ok()) return fail(reader.in.mistake);
  return std::move(reader.path);
}

Result<std::vector<double>> parse_number_list(std::string_view text) {
  Scanner in;
  in.text = text;
  std::vector<double> out;
  while (in.ok() && !in.at_end()) {
    if (out.size() >= most_segments) return fail("the list is too long");
    out.push_back(in.number());
  }
  if (!in.ok()) return fail(in.mistake);
  return out;
}

}  // namespace linewright::drawing
