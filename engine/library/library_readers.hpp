#pragma once

#include "input/yaml_reader.hpp"
#include "library/library_data.hpp"

namespace firstcrop {

// Readers of the single files of the folder. Each adds to the data and reports what is wrong; solvents come
// first, because the others speak of them by id.

void read_sources(const YamlDocument& document, Library::Data& data, Findings& findings);
void read_groups(const YamlDocument& document, Library::Data& data, Findings& findings);
void read_descriptor_increments(const YamlDocument& document, Library::Data& data, Findings& findings);
void read_conditions(const YamlDocument& document, Library::Data& data, Findings& findings);
/// Needs solvents; reports pairs that are missing or stand twice.
void read_miscibility(const YamlDocument& document, Library::Data& data, Findings& findings);
void read_azeotropes(const YamlDocument& document, Library::Data& data, Findings& findings);
/// Needs solvents, groups and conditions.
void read_incompatibilities(const YamlDocument& document, Library::Data& data, Findings& findings);
void read_shelves(const YamlDocument& document, Library::Data& data, Findings& findings);
void read_names(const YamlDocument& document, Library::Data& data, Findings& findings);
void read_habits(const YamlDocument& document, Library::Data& data, Findings& findings);

}  // namespace firstcrop
