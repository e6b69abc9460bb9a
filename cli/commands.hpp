#pragma once

#include "answer.hpp"

namespace CLI {
class App;
}

namespace firstcrop::cli {

/// One function to declare the options of a command, one to run it.
void declare_rank(CLI::App& command, Options& options);
[[nodiscard]] Answer run_rank(const Options& options);

void declare_why(CLI::App& command, Options& options);
[[nodiscard]] Answer run_why(const Options& options);

void declare_pair(CLI::App& command, Options& options);
[[nodiscard]] Answer run_pair(const Options& options);

void declare_solubility(CLI::App& command, Options& options);
[[nodiscard]] Answer run_solubility(const Options& options);

void declare_trials(CLI::App& command, Options& options);
[[nodiscard]] Answer run_trials(const Options& options);

void declare_amounts(CLI::App& command, Options& options);
[[nodiscard]] Answer run_amounts(const Options& options);

void declare_crop(CLI::App& command, Options& options);
[[nodiscard]] Answer run_crop(const Options& options);

void declare_lesson(CLI::App& command, Options& options);
[[nodiscard]] Answer run_lesson(const Options& options);

void declare_plan(CLI::App& command, Options& options);
[[nodiscard]] Answer run_plan(const Options& options);

void declare_bridge(CLI::App& command, Options& options);
[[nodiscard]] Answer run_bridge(const Options& options);

void declare_solvents(CLI::App& command, Options& options);
[[nodiscard]] Answer run_solvents(const Options& options);

void declare_rules(CLI::App& command, Options& options);
[[nodiscard]] Answer run_rules(const Options& options);

void declare_check(CLI::App& command, Options& options);
[[nodiscard]] Answer run_check(const Options& options);

}  // namespace firstcrop::cli
