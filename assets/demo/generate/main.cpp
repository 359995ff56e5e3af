// Writes the demo's mold halves as binary STL into a folder: evenclose-demo-meshes FOLDER
#include "assets/demo/generate/demo_molds.hpp"

#include <exception>
#include <iostream>

int main(int argc, char** argv) {
    using namespace evenclose::demo;
    if (argc != 2) {
        std::cerr << "usage: evenclose-demo-meshes FOLDER\n";
        return 64;
    }
    try {
        const std::filesystem::path folder = argv[1];
        std::filesystem::create_directories(folder);
        const Halves crescent = halves_of(Crescent{});
        const Halves curlew = halves_of(Curlew{});
        write_binary_stl(crescent.lower, folder / "crescent-lower.stl");
        write_binary_stl(crescent.upper, folder / "crescent-upper.stl");
        write_binary_stl(curlew.lower, folder / "curlew-lower.stl");
        write_binary_stl(curlew.upper, folder / "curlew-upper.stl");
    } catch (const std::exception& fault) {
        std::cerr << "evenclose-demo-meshes: " << fault.what() << "\n";
        return 2;
    }
    return 0;
}
