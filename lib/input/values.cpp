#include "input/values.hpp"

#include <array>
#include <cctype>

#include <fmt/core.h>

#include "input/nearest.hpp"

namespace linewright::input {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// A number that YAML 1.1 programs take for something else, such as 010 for eight.
std::optional<std::string> trap(std::string_view text) {
  if (text.starts_with('-')) text.remove_prefix(1);
  if (text.size() < 2 || !is_digit(text[0])) return std::nullopt;
  if (text[0] == '0' && is_digit(text[1]))
    return "has a leading zero, which YAML may read as octal";
  if (text[0] == '0' && (text[1] == 'x' || text[1] == 'o' || text[1] == 'b'))
    return "is not a decimal number";
  std::size_t i = 0;
  while (i < text.size() && is_digit(text[i]))
    ++i;
  if (i + 1 < text.size() && text[i] == '_') return "has '_' between its digits";
  if (i + 1 < text.size() && text[i] == ':' && is_digit(text[i + 1]))
    return "has ':', which YAML may read as sixties";
  return std::nullopt;
}

constexpr std::array<std::string_view, 10> yaml_words{"yes",  "no",    "on",   "off", "y",
                                                      "true", "false", "null", "n",   "~"};

bool is_yaml_word(const Node& node) {
  if (node.quoted) return false;
  const std::string word = plain(node.text);
  for (const std::string_view each : yaml_words)
    if (word == each) return true;
  return false;
}

void report_shape(const Node& node, Mistakes& mistakes) {
  mistakes.add(node.where,
               node.is_list() ? "a list where one value belongs" : "a map where one value belongs",
               "write a single value");
}

template <class T>
std::optional<T> report_or(const Node& node, const std::string& written, const Result<T>& result,
                           Mistakes& mistakes) {
  if (result) return *result;
  report_value(node, written, result.error(), mistakes);
  return std::nullopt;
}

}  // namespace

std::string text(const Node* node, Mistakes& mistakes) {
  if (node == nullptr || node->is_nothing()) return {};
  if (!node->is_scalar()) {
    report_shape(*node, mistakes);
    return {};
  }
  if (is_yaml_word(*node)) {
    mistakes.add(node->where,
                 fmt::format("YAML may read the text {} as yes or no", quote(node->text)),
                 fmt::format("put it in quotes: \"{}\"", node->text));
    return {};
  }
  return node->text;
}

std::optional<std::string> value_text(const Node* node, Mistakes& mistakes) {
  if (node == nullptr || node->is_nothing()) return std::nullopt;
  if (!node->is_scalar()) {
    report_shape(*node, mistakes);
    return std::nullopt;
  }
  if (const auto reason = node->quoted ? std::nullopt : trap(node->text)) {
    mistakes.add(node->where, fmt::format("{} {}", quote(node->text), *reason),
                 "write a plain decimal number");
    return std::nullopt;
  }
  return node->text;
}

std::optional<bool> yes_no(const Node* node, Mistakes& mistakes) {
  if (node == nullptr) return std::nullopt;
  const std::string word = node->is_scalar() ? plain(node->text) : "";
  if (word == "yes" || word == "true") return true;
  if (word == "no" || word == "false") return false;
  mistakes.add(node->where,
               node->is_scalar() ? fmt::format("{} is neither 'yes' nor 'no'", quote(node->text))
                                 : "a list or map where 'yes' or 'no' belongs",
               "write 'yes' or 'no'");
  return std::nullopt;
}

void report_value(const Node& node, std::string_view written, const Failure& failure,
                  Mistakes& mistakes) {
  const std::string& words = failure.message;
  const std::size_t cut = words.find("; ");
  const std::string expected = words.substr(0, cut);
  const std::string reason = cut == std::string::npos ? "" : words.substr(cut + 2);
  std::string message = reason.find(quote(written)) != std::string::npos || written.empty()
                            ? reason
                            : fmt::format("{}: {}", quote(written), reason);
  if (reason.empty()) message = fmt::format("{} is not a value for this key", quote(written));
  mistakes.add(node.where, std::move(message), expected);
}

std::optional<double> number(const Node* node, Mistakes& mistakes) {
  const std::optional<std::string> written = value_text(node, mistakes);
  if (!written) return std::nullopt;
  return report_or(*node, *written, read_number(*written), mistakes);
}

std::optional<int> count(const Node* node, Mistakes& mistakes) {
  const std::optional<std::string> written = value_text(node, mistakes);
  if (!written) return std::nullopt;
  const Result<int> result = read_count(*written);
  if (result && *result == 0) {
    mistakes.add(node->where, "'0' where there is at least one", "expected a whole number from 1");
    return std::nullopt;
  }
  return report_or(*node, *written, result, mistakes);
}

std::optional<double> share(const Node* node, Mistakes& mistakes) {
  const std::optional<std::string> written = value_text(node, mistakes);
  if (!written) return std::nullopt;
  return report_or(*node, *written, read_share(*written), mistakes);
}

void report_choice(const Node& node, std::span<const std::string_view> words, Mistakes& mistakes) {
  if (!node.is_scalar()) {
    report_shape(node, mistakes);
    return;
  }
  std::string all = "expected ";
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) all += i + 1 == words.size() ? " or " : ", ";
    all += quote(words[i]);
  }
  mistakes.add_unknown(node.where, fmt::format("{} is not a word for this key", quote(node.text)),
                       node.text, words, all);
}

}  // namespace linewright::input
