// scene/mesh/formats/files_beside.hpp: how a mesh file gets at further files that it names (a glTF its .bin).
//
// It may name files in its own folder and below, by a relative path without "..", and no symbolic link may lead out of
// there: a mesh that somebody sent must not make the program read what was not sent with it. An OBJ's .mtl is never
// opened. Documents are another matter: a shop writes them itself and keeps its meshes in sibling folders, so a document
// may name meshes by any path (scene/documents/named_file.hpp); they are read as meshes only and never written.
#pragma once

#include "scene/mesh/formats/open_file.hpp"

#include <filesystem>
#include <functional>
#include <string>
#include <variant>

namespace evenclose {

/// Opens the file that is written so in the mesh file, or says in words why not.
using FilesBeside = std::function<std::variant<OpenFile, std::string>(const std::string& written)>;

/// Opens under the rule above. Where the system cannot hold to it by itself (openat2, Linux 5.6), no link is followed.
[[nodiscard]] FilesBeside files_beside(const std::filesystem::path& mesh_file);

} // namespace evenclose
