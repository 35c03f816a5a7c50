#include "geometry/browser.hpp"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include <fmt/core.h>
#include <nlohmann/json.hpp>
#include <unistd.h>

#include "drawing/path_data.hpp"
#include "drawing/symbol_table.hpp"
#include "support/paths.hpp"

namespace linewright::tests::geometry {
namespace {

using nlohmann::json;

// Each sheet in a frame of its own, so that its fonts and names are its own. A text's ink reaches
// from its capitals to its descenders: the renderer's box would take the line spacing with it.
constexpr const char* page = R"js(<!doctype html><meta charset="utf-8"><body><script>
const sheets = SHEETS;
const done = [];
function boxOf(element, root, local) {
  const matrix = root.getScreenCTM().inverse().multiply(element.getScreenCTM());
  const corners = [[local.x, local.y], [local.x + local.width, local.y],
                   [local.x, local.y + local.height], [local.x + local.width, local.y + local.height]]
      .map(([x, y]) => new DOMPoint(x, y).matrixTransform(matrix));
  const xs = corners.map(p => p.x), ys = corners.map(p => p.y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
function textBox(element) {
  const box = element.getBBox();
  const size = parseFloat(element.getAttribute('font-size'));
  const base = parseFloat(element.getAttribute('y'));
  const below = /[gjpqyµ()\[\]_|]/.test(element.textContent) ? 0.2 :
                /[,;QJ]/.test(element.textContent) ? 0.08 : 0.02;
  return {x: box.x, width: box.width, y: base - 0.72 * size, height: (0.72 + below) * size};
}
function lookAt(root) {
  const groups = [], items = [], known = new Map();
  for (const element of root.querySelectorAll('text,use,path,circle,rect')) {
    if (element.closest('symbol,defs')) continue;
    const holder = element.closest('g');
    if (!known.has(holder)) {
      known.set(holder, groups.length);
      groups.push([holder ? holder.getAttribute('class') || '' : '',
                   holder ? Object.assign({}, holder.dataset) : {}]);
    }
    const tag = element.tagName;
    const item = {t: tag, g: known.get(holder)};
    item.b = boxOf(element, root, tag === 'text' ? textBox(element) : element.getBBox());
    if (tag === 'text') {
      item.w = element.textContent;
      item.s = parseFloat(element.getAttribute('font-size'));
    } else if (tag === 'use') {
      item.w = element.getAttribute('href');
      item.x = parseFloat(element.getAttribute('x') || 0);
      item.y = parseFloat(element.getAttribute('y') || 0);
      item.r = element.getAttribute('transform') || '';
    } else {
      item.f = element.getAttribute('fill');
      item.i = element.getAttribute('stroke');
      item.s = parseFloat(element.getAttribute('stroke-width') || 0);
      if (tag === 'path') item.d = element.getAttribute('d');
      if (element.getAttribute('class') === 'run') item.c = 1;
    }
    items.push(item);
  }
  const view = root.viewBox.baseVal;
  return {w: view.width, h: view.height, groups, items};
}
async function run() {
  for (const svg of sheets) {
    const frame = document.createElement('iframe');
    frame.style = 'width:2000px;height:2000px;border:0';
    const loaded = new Promise(resolve => frame.addEventListener('load', resolve));
    frame.srcdoc = '<!doctype html><meta charset="utf-8"><body style="margin:0">' + svg;
    document.body.append(frame);
    await loaded;
    const inside = frame.contentDocument;
    await Promise.all([...inside.fonts].map(face => face.load()));
    await inside.fonts.ready;
    done.push(lookAt(inside.querySelector('svg')));
    frame.remove();
  }
}
run().then(() => JSON.stringify(done), error => JSON.stringify({failure: String(error)}))
    .then(words => {
      const holder = document.createElement('script');
      holder.type = 'application/json';
      holder.id = 'measured';
      holder.textContent = words.replaceAll('<', '\\u003c');
      document.body.replaceChildren(holder);
    });
</script>)js";

std::string output_of(const std::string& command) {
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) return {};
  std::string out;
  std::array<char, 65536> buffer{};
  while (const std::size_t count = fread(buffer.data(), 1, buffer.size(), pipe))
    out.append(buffer.data(), count);
  pclose(pipe);
  return out;
}

// A page ends its script at the first end tag, even inside a string.
std::string without_end_tags(const std::string& text) {
  std::string result;
  result.reserve(text.size() + text.size() / 16);
  for (std::size_t i = 0; i < text.size(); ++i) {
    result += text[i];
    if (text[i] == '<' && i + 1 < text.size() && text[i + 1] == '/') result += '\\';
  }
  return result;
}

std::string without_declaration(const std::string& svg) {
  const std::size_t at = svg.find("<svg");
  return at == std::string::npos ? svg : svg.substr(at);
}

std::vector<std::vector<Spot>> polylines(const drawing::Path& path, Spot origin,
                                         int quarter_turns) {
  const auto place = [&](drawing::Point p) {
    for (int i = 0; i < quarter_turns; ++i)
      p = {-p.y, p.x};
    return Spot{origin.x + p.x, origin.y + p.y};
  };
  std::vector<std::vector<Spot>> lines;
  for (const drawing::Segment& segment : path) {
    using Kind = drawing::Segment::Kind;
    switch (segment.kind) {
      case Kind::move:
        lines.push_back({place(segment.points[0])});
        break;
      case Kind::line:
        lines.back().push_back(place(segment.points[0]));
        break;
      case Kind::cubic:
        lines.back().push_back(place(segment.points[2]));
        break;
      case Kind::close:
        lines.back().push_back(lines.back().front());
        break;
    }
  }
  return lines;
}

Item item_of(const json& from) {
  Item item;
  const std::string tag = from["t"];
  item.group = from["g"];
  const auto& box = from["b"];
  item.box = {box[0], box[1], box[2], box[3]};
  if (tag == "text") {
    item.kind = Item::Kind::text;
    item.words = from["w"];
    item.size = from["s"];
    return item;
  }
  if (tag == "use") {
    item.kind = Item::Kind::symbol;
    item.words = from["w"].get<std::string>().substr(std::string("#symbol-").size());
    item.at = {from["x"], from["y"]};
    const std::string turn = from["r"];
    if (const std::size_t at = turn.find("rotate("); at != std::string::npos)
      item.quarter_turns = std::strtod(turn.c_str() + at + 7, nullptr) / 90.0;
    static const drawing::SymbolLibrary known = drawing::built_in_symbols();
    if (const auto symbol = known.find(item.words); symbol != known.end())
      for (const drawing::Outline& outline : symbol->second.outlines)
        for (auto& line :
             polylines(outline.path, item.at, (static_cast<int>(item.quarter_turns) % 4 + 4) % 4))
          item.lines.push_back(std::move(line));
    return item;
  }
  item.kind = tag == "circle" ? Item::Kind::disc
              : tag == "rect" ? Item::Kind::box
                              : Item::Kind::path;
  item.filled = from["f"].is_string() && from["f"] != "none";
  item.run = from.contains("c");
  if (from["i"].is_string() && from["i"] != "none") item.ink = from["i"];
  if (from["s"].is_number()) item.size = from["s"];
  if (tag == "path")
    if (const auto path = drawing::parse_path_data(from["d"].get<std::string>()))
      item.lines = polylines(*path, {}, 0);
  return item;
}

Sheet sheet_of(const json& from, const std::string& name) {
  Sheet sheet{.name = name, .width = from["w"], .height = from["h"], .groups = {}, .items = {}};
  for (const json& group : from["groups"])
    sheet.groups.push_back({group[0], group[1].get<std::map<std::string, std::string>>()});
  for (const json& item : from["items"])
    sheet.items.push_back(item_of(item));
  return sheet;
}

}  // namespace

Measured measure(const std::vector<Drawn>& sheets) {
  json texts = json::array();
  for (const Drawn& sheet : sheets)
    texts.push_back(without_declaration(sheet.svg));
  const std::string list = without_end_tags(texts.dump());
  std::string html = page;
  html.replace(html.find("SHEETS"), 6, list);

  const std::string folder = fmt::format("{}/browser-{}", build_folder(), getpid());
  std::filesystem::create_directories(folder);
  std::ofstream(folder + "/page.html") << html;
  const std::string out = output_of(fmt::format(
      "timeout 300 chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run "
      "--disable-background-networking --disable-component-update --disable-sync "
      "--user-data-dir='{0}/profile' --virtual-time-budget=100000000 --dump-dom "
      "'file://{0}/page.html' 2>'{0}/errors'",
      folder));
  Measured measured;
  const std::string before = R"(id="measured">)";
  const std::size_t at = out.find(before);
  const std::size_t end = out.find("</script>", at);
  if (at == std::string::npos || end == std::string::npos) {
    measured.failure = "the browser gave no answer";
    return measured;
  }
  const json answer =
      json::parse(out.substr(at + before.size(), end - at - before.size()), nullptr, false);
  if (!answer.is_array() || answer.size() != sheets.size()) {
    measured.failure = answer.is_object() ? answer.dump() : "the browser's answer can not be read";
    return measured;
  }
  for (std::size_t i = 0; i < sheets.size(); ++i)
    measured.sheets.push_back(sheet_of(answer[i], sheets[i].name));
  std::error_code ignored;
  std::filesystem::remove_all(folder, ignored);
  return measured;
}

}  // namespace linewright::tests::geometry
