#include "input/emit.hpp"

#include <string_view>

#include "input/nearest.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

constexpr std::size_t longest_line = 110;

bool is_safe_first(char c) {
  return std::string_view("-?:,[]{}#&*!|>'\"%@` ~=").find(c) == std::string_view::npos;
}

// A scalar may stand without quotes where nothing in it means something to YAML.
bool may_stand_plain(std::string_view text) {
  if (text.empty() || text.back() == ' ' || text.back() == ':') return false;
  if (!is_safe_first(text[0]) && !is_designation(text)) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const bool before_blank = i + 1 < text.size() && text[i + 1] == ' ';
    if (static_cast<unsigned char>(c) < 0x20U || (c == ':' && before_blank)) return false;
    if (c == '#' && i > 0 && text[i - 1] == ' ') return false;
    if (c == ',' || c == '[' || c == ']' || c == '{' || c == '}') return false;
  }
  return true;
}

std::string quoted(std::string_view text) {
  std::string result = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\')
      result += std::string("\\") + c;
    else if (c == '\n')
      result += "\\n";
    else if (c == '\t')
      result += "\\t";
    else if (c == '\r')
      result += "\\r";
    else
      result += c;
  }
  return result + "\"";
}

std::string word(const Node& node) {
  return !node.quoted && may_stand_plain(node.text) ? node.text : quoted(node.text);
}

// {id: -F1, device: B16 2P} is the line "-F1 B16 2P".
std::string as_line(const Node& node) {
  if (!node.is_map() || node.keys.size() != 2 || node.items.size() != 2) return {};
  const bool names = node.keys[0].text == "id" && node.items[0].is_scalar();
  const bool says = (node.keys[1].text == "device" || node.keys[1].text == "cable") &&
                    node.items[1].is_scalar() && !node.items[1].quoted;
  if (!names || !says || !is_designation(node.items[0].text)) return {};
  const std::string line = node.items[0].text + " " + node.items[1].text;
  return may_stand_plain(line) ? line : quoted(line);
}

std::string on_one_line(const Node& node) {
  if (node.is_nothing()) return "~";
  if (node.is_scalar()) return word(node);
  if (const std::string line = as_line(node); !line.empty()) return line;
  std::string text = node.is_list() ? "[" : "{";
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    if (i > 0) text += ", ";
    if (node.is_map()) text += word(node.keys[i]) + ": ";
    text += on_one_line(node.items[i]);
  }
  return text + (node.is_list() ? "]" : "}");
}

bool fits(const std::string& text, std::size_t indent) {
  return text.size() + indent <= longest_line;
}

void emit_block(const Node& node, std::size_t indent, std::string& out);

void emit_value(const Node& node, std::size_t indent, bool top, std::string& out) {
  const std::string line = on_one_line(node);
  const bool is_block =
      (node.is_map() || node.is_list()) && !node.items.empty() && (top || !fits(line, indent));
  if (!is_block || !as_line(node).empty()) {
    out += node.is_nothing() ? "\n" : " " + line + "\n";
    return;
  }
  out += "\n";
  emit_block(node, indent + 2, out);
}

void emit_block(const Node& node, std::size_t indent, std::string& out) {
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    out += std::string(indent, ' ');
    if (node.is_map()) {
      out += word(node.keys[i]) + ":";
      emit_value(node.items[i], indent, indent == 0, out);
      continue;
    }
    const Node& item = node.items[i];
    const bool is_long_map =
        item.is_map() && as_line(item).empty() && !fits(on_one_line(item), indent + 2);
    if (!is_long_map) {
      out += "-";
      emit_value(item, indent, false, out);
      continue;
    }
    // The first key stands behind the hyphen, where the others of the block would be indented.
    std::string block;
    emit_block(item, indent + 2, block);
    block[indent] = '-';
    out += block.substr(indent);
  }
}

}  // namespace

std::string emit(const Node& root) {
  std::string out;
  emit_block(root, 0, out);
  return out;
}

}  // namespace linewright::input
