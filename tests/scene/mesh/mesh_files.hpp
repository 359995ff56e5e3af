// tests/scene/mesh/mesh_files.hpp: writes small mesh files in each format that is read, byte by byte as the formats'
// texts say, so that nothing of ours or of a library's stands on both sides of a test.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <unistd.h>

#include <array>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace evenclose::test {

/// A folder of its own, gone at the end.
class Folder {
public:
    Folder() {
        std::string pattern = (std::filesystem::temp_directory_path() / "evenclose-XXXXXX").string();
        path_ = ::mkdtemp(pattern.data());
    }
    ~Folder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::filesystem::path write(const std::string& name, std::string_view bytes) const {
        auto file = path_ / name;
        std::error_code ignored;
        std::filesystem::remove(file,
                                ignored); // some file systems wait for the disk when a file is cut to be written anew
        std::ofstream(file, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        return file;
    }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

template <class T> void put(std::string& bytes, T value) {
    char raw[sizeof(T)];
    std::memcpy(raw, &value, sizeof(T));
    bytes.append(raw, sizeof(T));
}

std::string binary_stl(const TriangleMesh& mesh, std::string_view header = "made by a test");
std::string text_stl(const TriangleMesh& mesh, std::string_view name = "half");
std::string obj(const TriangleMesh& mesh);
std::string ply(const TriangleMesh& mesh, bool binary);
std::string off(const TriangleMesh& mesh);
/// Vertices, then corners, as glTF's one buffer.
std::string gltf_buffer(const TriangleMesh& mesh);
/// `nodes`: the JSON array; mesh 0 is the mesh. `buffer_uri`: empty for a GLB.
std::string gltf_json(const TriangleMesh& mesh, std::string_view nodes, std::string_view buffer_uri);
std::string glb(const TriangleMesh& mesh, std::string_view nodes);
/// A zip file of stored (not compressed) parts (PKWARE APPNOTE 6.3, sections 4.3.7, 4.3.12, 4.3.16).
std::string stored_zip(const std::vector<std::pair<std::string, std::string>>& parts);
std::string three_mf_mesh(const TriangleMesh& mesh);
/// `model_attributes`: such as unit="inch"; `objects` and `items`: XML.
std::string three_mf(std::string_view model_attributes, std::string_view objects, std::string_view items);

} // namespace evenclose::test
