#include "network/clauses.hpp"

#include <cadical.hpp>

namespace linewright::network {

// Simplifying between the many short solves of one question costs more than it saves.
Clauses::Clauses() : solver_(std::make_unique<CaDiCaL::Solver>()) {
  solver_->set("inprocessing", 0);
  any({always()});
}

Clauses::~Clauses() = default;

void Clauses::any(const std::vector<Literal>& literals) {
  for (const Literal literal : literals)
    if (literal == always()) {
      if (literals.size() == 1) break;
      return;
    }
  for (const Literal literal : literals)
    if (literal != never()) solver_->add(literal);
  solver_->add(0);
}

void Clauses::implies(const std::vector<Literal>& if_all, const std::vector<Literal>& then) {
  std::vector<Literal> clause = then;
  for (const Literal literal : if_all)
    clause.push_back(-literal);
  any(clause);
}

void Clauses::exactly_one(const std::vector<Literal>& literals) {
  any(literals);
  at_most_one(literals);
}

// Pairwise for the few positions of a device, in a chain for long lists.
void Clauses::at_most_one(const std::vector<Literal>& literals) {
  if (literals.size() <= 6) {
    for (std::size_t i = 0; i < literals.size(); ++i)
      for (std::size_t j = i + 1; j < literals.size(); ++j)
        any({-literals[i], -literals[j]});
    return;
  }
  Literal before = never();
  for (const Literal literal : literals) {
    any({-before, -literal});
    const Literal now = fresh();
    implies({before}, {now});
    implies({literal}, {now});
    before = now;
  }
}

Literal Clauses::all_of(const std::vector<Literal>& literals) {
  const Literal all = fresh();
  std::vector<Literal> clause{all};
  for (const Literal literal : literals) {
    implies({all}, {literal});
    clause.push_back(-literal);
  }
  any(clause);
  return all;
}

Literal Clauses::any_of(const std::vector<Literal>& literals) {
  std::vector<Literal> negated;
  for (const Literal literal : literals)
    negated.push_back(-literal);
  return -all_of(negated);
}

// A sequential counter (Sinz 2005): row[k] holds if more than k of those seen so far do.
std::vector<Literal> Clauses::more_than(const std::vector<Literal>& literals, std::size_t most) {
  std::vector<Literal> row(most + 1, never());
  for (const Literal literal : literals) {
    std::vector<Literal> next;
    for (std::size_t k = 0; k <= most; ++k) {
      const Literal more = fresh();
      implies({row[k]}, {more});
      implies({literal, k == 0 ? always() : row[k - 1]}, {more});
      next.push_back(more);
    }
    row = std::move(next);
  }
  return row;
}

void Clauses::path_degree(const std::vector<Literal>& used, Literal odd) {
  if (used.empty()) return implies({odd}, {never()});
  Literal one = used.front();  // at least one so far
  Literal two = never();
  for (std::size_t i = 1; i < used.size(); ++i) {
    const Literal edge = used[i];
    const Literal both = all_of({one, edge});
    if (i > 1) any({-two, -edge});
    two = i > 1 ? any_of({two, both}) : both;
    one = any_of({one, edge});
  }
  implies({odd}, {one});
  implies({odd}, {-two});
  implies({-odd, one}, {two});
}

void Clauses::parity(const std::vector<Literal>& used, Literal odd) {
  Literal before = never();
  for (const Literal edge : used) {
    const Literal now = fresh();
    any({-now, before, edge});
    any({-now, -before, -edge});
    any({now, -before, edge});
    any({now, before, -edge});
    before = now;
  }
  any({-before, odd});
  any({before, -odd});
}

bool Clauses::solve(const std::vector<Literal>& assumptions) {
  for (const Literal literal : assumptions)
    solver_->assume(literal);
  constexpr int satisfiable = 10;
  return solver_->solve() == satisfiable;
}

bool Clauses::holds(Literal literal) const {
  return solver_->val(literal) > 0;
}

bool Clauses::needed(Literal assumption) const {
  return solver_->failed(assumption);
}

}  // namespace linewright::network
