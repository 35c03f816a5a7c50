// Which designations are taken, and the next free one of a class letter.
#pragma once

#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>

#include "input/node.hpp"

namespace linewright::input {

/// The designations of one file: those that it gives to something, and those that it only mentions,
/// which are not made up either so that a slip of the pen does not find something by chance.
class Names {
 public:
  /// Takes all designations of the tree.
  void take_all(const Node& tree);

  /// "-" and the letter and the next free number, in the order of asking; given from then on.
  std::string next(std::string_view letter);
  /// The designation itself if the file gives it to nothing, else the next free one of its letter.
  std::string wanted(const std::string& designation);

 private:
  void take_scalar(const Node& node, bool defines);
  void take_under(const Node& tree, const std::string& key);

  std::unordered_set<std::string> given_;
  std::unordered_set<std::string> mentioned_;
  std::unordered_map<std::string, int> last_;
};

}  // namespace linewright::input
