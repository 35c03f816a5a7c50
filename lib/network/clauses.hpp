// A set of clauses and the solver that decides it.
#pragma once

#include <memory>
#include <vector>

namespace CaDiCaL {  // NOLINT(readability-identifier-naming): the library is called so
class Solver;
}

namespace linewright::network {

/// A literal: a variable, or its negation as the negative number.
using Literal = int;

/// Clauses over fresh variables, solved under assumptions again and again.
class Clauses {
 public:
  Clauses();
  ~Clauses();
  Clauses(const Clauses&) = delete;
  Clauses& operator=(const Clauses&) = delete;

  Literal fresh() { return ++last_; }
  Literal always() const { return 1; }
  Literal never() const { return -1; }

  /// At least one of them.
  void any(const std::vector<Literal>& literals);
  /// `if_all` of them hold, then one of `then`.
  void implies(const std::vector<Literal>& if_all, const std::vector<Literal>& then);
  void exactly_one(const std::vector<Literal>& literals);
  void at_most_one(const std::vector<Literal>& literals);
  /// A literal that holds just if all of them do.
  Literal all_of(const std::vector<Literal>& literals);
  /// A literal that holds just if one of them does.
  Literal any_of(const std::vector<Literal>& literals);
  /// By k from 0 to `most`: a literal that holds if more than k of them do.
  std::vector<Literal> more_than(const std::vector<Literal>& literals, std::size_t most);
  /// None or two of them if not `odd`, exactly one if `odd`: what a path asks of a node.
  void path_degree(const std::vector<Literal>& used, Literal odd);
  /// An even number of them if not `odd`, else an odd number: a way that may cross itself.
  void parity(const std::vector<Literal>& used, Literal odd);

  /// Whether the clauses can all hold together with the assumptions.
  bool solve(const std::vector<Literal>& assumptions);
  /// After a solve that found a way: what it gives the literal.
  bool holds(Literal literal) const;
  /// After a solve that found none: whether it used this assumption.
  bool needed(Literal assumption) const;

  int variables() const { return last_; }

 private:
  std::unique_ptr<CaDiCaL::Solver> solver_;
  int last_ = 1;  ///< variable 1 always holds
};

}  // namespace linewright::network
