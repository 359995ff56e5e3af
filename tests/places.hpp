// tests/places.hpp: where the tests find what was checked out and what was built.
//
// Told by one source file, so that no other is compiled with the name of a folder in it, and ccache knows them in any clone.
#pragma once

#include <string>

namespace evenclose::test {

[[nodiscard]] std::string source_folder();
[[nodiscard]] std::string build_folder();
/// A file of the demo, as it was built.
[[nodiscard]] std::string demo(const std::string& name);

} // namespace evenclose::test
