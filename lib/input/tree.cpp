#include "input/tree.hpp"

#include <algorithm>
#include <cstddef>
#include <istream>
#include <streambuf>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include <fmt/core.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/node/node.h>
#include <yaml-cpp/parser.h>

#include "input/nearest.hpp"
#include "input/source_text.hpp"

namespace linewright::input {
namespace {

constexpr std::size_t deepest = 64;
constexpr std::size_t most_nodes = 100'000;
constexpr std::size_t longest_scalar = 65'536;

// Hands the text to the parser in pieces, and ends it early where the parser has read far ahead of
// what it reports: it keeps all tokens within an open bracket in memory, more than a hundred bytes
// for each byte of text.
class MeasuredText : public std::streambuf {
 public:
  explicit MeasuredText(std::string_view text) : text_(text) {}

  void on_event() { reported_ = next_; }
  bool ended_early() const { return ended_early_; }

 protected:
  int_type underflow() override {
    constexpr std::size_t piece = 4096;
    constexpr std::size_t furthest_ahead = 400'000;
    if (next_ - reported_ > furthest_ahead) ended_early_ = true;
    if (ended_early_ || next_ >= text_.size()) return traits_type::eof();
    const std::size_t size = std::min(piece, text_.size() - next_);
    buffer_.assign(text_.substr(next_, size));
    next_ += size;
    setg(buffer_.data(), buffer_.data(), buffer_.data() + buffer_.size());
    return traits_type::to_int_type(buffer_.front());
  }

 private:
  std::string_view text_;
  std::string buffer_;
  std::size_t next_ = 0;
  std::size_t reported_ = 0;
  bool ended_early_ = false;
};

// Blanks that do not break a line, as some keyboards and pages put before units, are blanks here.
std::string with_plain_blanks(const std::string& value) {
  std::string text = value;
  for (const std::string_view blank : {"\u00a0", "\u202f"})
    for (std::size_t at = text.find(blank); at != std::string::npos; at = text.find(blank, at))
      text.replace(at, blank.size(), " ");
  return text;
}

// Builds the tree from the parser's events without recursion. A refusal is thrown as the parser's
// own exception, which unwinds the parser cleanly; parse_tree catches it.
class TreeBuilder : public YAML::EventHandler {
 public:
  TreeBuilder(SourceText& source, MeasuredText& text, Mistakes& mistakes)
      : source_(source), text_(text), mistakes_(mistakes) {}

  Node take() { return std::move(root_); }
  Place place(const YAML::Mark& mark) {
    if (mark.is_null()) return {1, 1, 1};
    return source_.place(static_cast<std::size_t>(mark.line),
                         static_cast<std::size_t>(mark.column));
  }

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (started_) refuse(mark, "a second document starts here");
    started_ = true;
  }
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    check(mark, "", anchor);
    Node node;
    node.where = place(mark);
    add(std::move(node));
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    refuse(mark, "aliases ('*') are not read here");
  }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    check(mark, tag, anchor);
    if (value.size() > longest_scalar) refuse(mark, "a text of more than 64 KB");
    // An escape in quotes, such as "\\x1b", brings in what the text itself must not hold.
    if (const std::string unwanted = unwanted_in(value); !unwanted.empty()) refuse(mark, unwanted);
    Node node = scalar(with_plain_blanks(value), place(mark));
    node.quoted = tag == "!";
    node.where.length = source_.length_of_scalar(static_cast<std::size_t>(mark.line),
                                                 static_cast<std::size_t>(mark.column), value);
    add(std::move(node));
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(mark, tag, anchor, empty_list(place(mark)));
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(mark, tag, anchor, empty_map(place(mark)));
  }
  void OnMapEnd() override { close(); }

 private:
  struct Level {
    Node node;
    bool expects_key = true;
    std::unordered_map<std::string, Place> seen;
  };

  [[noreturn]] static void refuse(const YAML::Mark& mark, const std::string& message) {
    throw YAML::ParserException(mark, message);
  }

  void check(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor) {
    text_.on_event();
    if (anchor != 0) refuse(mark, "anchors ('&') are not read here");
    if (!tag.empty() && tag != "!" && tag != "?") refuse(mark, "tags ('!') are not read here");
    if (++nodes_ > most_nodes) refuse(mark, "more than 100 000 values in the file");
  }

  void open(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor, Node node) {
    check(mark, tag, anchor);
    if (levels_.size() >= deepest) refuse(mark, "nested more than 64 levels deep");
    levels_.push_back({std::move(node), true, {}});
  }

  void close() {
    Node node = std::move(levels_.back().node);
    levels_.pop_back();
    add(std::move(node));
  }

  void add(Node node) {
    if (levels_.empty()) {
      root_ = std::move(node);
      return;
    }
    Level& level = levels_.back();
    if (level.node.is_list()) {
      level.node.items.push_back(std::move(node));
    } else if (level.expects_key) {
      add_key(level, std::move(node));
      level.expects_key = false;
    } else {
      level.node.items.push_back(std::move(node));
      level.expects_key = true;
    }
  }

  void add_key(Level& level, Node key) {
    if (!key.is_scalar() || key.text.empty())
      mistakes_.add(key.where, "this key is no word", "write a word, then a colon");
    const auto [other, is_new] = level.seen.emplace(key.text, key.where);
    if (!is_new && key.is_scalar())
      mistakes_.add(key.where, fmt::format("key {} is given twice", quote(key.text)),
                    "keep one of the two", {{other->second, "first given here"}});
    level.node.keys.push_back(std::move(key));
  }

  SourceText& source_;
  MeasuredText& text_;
  Mistakes& mistakes_;
  std::vector<Level> levels_;
  Node root_;
  std::size_t nodes_ = 0;
  bool started_ = false;
};

struct Cause {
  std::string message;
  std::string mend;
};

// The parser's words for the commonest slips say little to those who do not know YAML.
Cause explain(const std::string& words) {
  if (words.find("not read here") != std::string::npos)
    return {words, "describe it under 'types' and take it with 'use'"};
  if (words.find("multiple anchors") != std::string::npos ||
      words.find("multiple tags") != std::string::npos)
    return {"anchors and tags are not read here", "describe it under 'types'"};
  if (words.find("second document") != std::string::npos)
    return {words, "keep one site a file: delete '---'"};
  if (words.find("levels deep") != std::string::npos ||
      words.find("more than") != std::string::npos)
    return {words, "no site needs this much"};
  if (words.find("map value") != std::string::npos)
    return {"a colon where none can stand", "put texts with a colon in quotes"};
  if (words.find("end of map") != std::string::npos)
    return {"indented differently from its neighbours",
            "align the keys of a map; close '{' with '}'"};
  if (words.find("end of sequence") != std::string::npos)
    return {"a list that does not end well", "align its '-'; close '[' with ']'"};
  return {"not YAML: " + words, "look at quotes, brackets and indentation"};
}

}  // namespace

std::optional<Node> parse_tree(std::string_view text, Mistakes& mistakes) {
  SourceText source(text);
  MeasuredText measured(text);
  TreeBuilder builder(source, measured, mistakes);
  std::istream stream(&measured);
  try {
    YAML::Parser parser(stream);
    if (!parser.HandleNextDocument(builder)) return Node{};
    parser.HandleNextDocument(builder);
    if (measured.ended_early())
      mistakes.add({1, 1, 1}, "more than 400 KB in one piece", "close a bracket or a quote");
  } catch (const YAML::Exception& exception) {
    Cause cause = explain(exception.msg);
    if (source.is_indented_by_tab(exception.mark.is_null() ? 0 : exception.mark.line))
      cause = {"a tab in the indentation", "indent with spaces"};
    if (measured.ended_early())
      cause = {"more than 400 KB in one piece", "close a bracket or a quote"};
    mistakes.add(builder.place(exception.mark), std::move(cause.message), std::move(cause.mend));
    return std::nullopt;
  }
  return builder.take();
}

}  // namespace linewright::input
