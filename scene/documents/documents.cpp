#include "scene/documents/documents.hpp"

#include "scene/documents/mesh_shelf.hpp"
#include "scene/documents/mold_document.hpp"
#include "scene/documents/press_document.hpp"
#include "scene/documents/setup_document.hpp"

namespace evenclose {

Loaded<Press> read_press(const std::filesystem::path& file) {
    MeshShelf shelf;
    return read_press(file, shelf);
}

Loaded<Mold> read_mold(const std::filesystem::path& file) {
    MeshShelf shelf;
    return read_mold(file, shelf);
}

Loaded<Setup> read_setup(const std::filesystem::path& file, const DocumentTexts& texts) {
    MeshShelf shelf;
    return read_setup(file, shelf, texts);
}

} // namespace evenclose
