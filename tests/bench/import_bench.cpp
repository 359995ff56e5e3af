// tests/bench/import_bench.cpp: in how much processor time and memory a mesh file is read, ours and peers in one run.
//
//   import_bench [TRIANGLES]      default 1 000 000, rounded to a torus of 2 x N x N / 2
//
// Each reading is done by this program started anew, in turns (ours, peer, ours, peer ...)
// so that a busy machine hurts both; the least time of several counts. A mere fork would not do: the child would find the
// parent's freed memory already in place, and both its peak and its time would be told too low. Peers are asked for what a shop's checks need: one
// mesh with equal corners joined. Assimp without joining is shown too: less than we do, and still a yardstick.
#include "scene/mesh/import.hpp"
#include "scene/mesh/shapes.hpp"
#include "tests/peak_memory.hpp"
#include "tests/scene/mesh/mesh_files.hpp"

#include <assimp/Importer.hpp>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <fmt/format.h>
#include <tiny_obj_loader.h>

#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <string>
#include <vector>

using namespace evenclose;
using test::peak_MB;

namespace {

struct Run {
    double seconds = 1e300;
    double peak_MB = 0;        // above what the process had before
    std::size_t triangles = 0; // 0: failed
    std::size_t corners = 0;
};

/// Of this process, the system's work for it included: all readers work on one thread, and others on the machine do not
/// count.
double cpu_seconds() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// Starts this program anew to let one reader read one file, and brings back what it found.
Run in_new_process(const std::string& reader, const std::string& file) {
    int ends[2];
    Run run;
    if (pipe(ends) != 0) {
        return run;
    }
    const pid_t child = fork();
    if (child == 0) {
        dup2(ends[1], 3);
        execl("/proc/self/exe", "import_bench", "--read", reader.c_str(), file.c_str(), nullptr);
        _exit(1);
    }
    close(ends[1]);
    if (::read(ends[0], &run, sizeof run) != static_cast<ssize_t>(sizeof run)) {
        run = {};
    }
    close(ends[0]);
    int status = 0;
    waitpid(child, &status, 0);
    return run;
}

void ours(const std::string& file, Run& run) {
    const ImportResult result = import_mesh(file, LengthUnit::mm);
    if (const auto* read = std::get_if<ImportedMesh>(&result)) {
        run.triangles = read->mesh.triangles.size();
        run.corners = read->mesh.vertices_mm.size();
    }
}
void assimp(const std::string& file, unsigned steps, Run& run) {
    Assimp::Importer importer;
    // Normals tell corners of one place apart; ours are joined by place alone.
    importer.SetPropertyInteger(AI_CONFIG_PP_RVC_FLAGS, aiComponent_NORMALS | aiComponent_TEXCOORDS);
    if (const aiScene* scene = importer.ReadFile(file, steps)) {
        for (unsigned i = 0; i < scene->mNumMeshes; ++i) {
            run.triangles += scene->mMeshes[i]->mNumFaces;
            run.corners += scene->mMeshes[i]->mNumVertices;
        }
    }
}
void tinyobj_alone(const std::string& file, Run& run) {
    tinyobj::attrib_t attributes;
    std::vector<tinyobj::shape_t> shapes;
    std::vector<tinyobj::material_t> materials;
    std::string warnings, errors;
    if (tinyobj::LoadObj(&attributes, &shapes, &materials, &warnings, &errors, file.c_str())) {
        for (const auto& shape : shapes) {
            run.triangles += shape.mesh.indices.size() / 3;
        }
        run.corners = attributes.vertices.size() / 3;
    }
}

struct Reader {
    const char* name;
    void (*read)(const std::string& file, Run& run);
};
constexpr Reader kReaders[] = {
    {"ours", ours},
    {"Assimp, corners joined",
     [](const std::string& file, Run& run) {
         assimp(file, aiProcess_RemoveComponent | aiProcess_JoinIdenticalVertices, run);
     }},
    {"Assimp, nothing joined", [](const std::string& file, Run& run) { assimp(file, 0, run); }},
    {"tinyobjloader, nothing joined", tinyobj_alone},
};

/// What the new process does: reads, and tells the other end of the pipe.
int read_and_tell(const std::string& name, const std::string& file) {
    Run run;
    const double before = peak_MB();
    const double start = cpu_seconds();
    for (const Reader& reader : kReaders) {
        if (name == reader.name) {
            reader.read(file, run);
        }
    }
    run.seconds = cpu_seconds() - start;
    run.peak_MB = peak_MB() - before;
    // Three corner numbers a triangle and three floats a corner at the least: a peak below that is no measurement.
    const double mesh_MB = static_cast<double>(12 * run.triangles + 12 * run.corners) / (1024 * 1024);
    if (run.peak_MB < mesh_MB) {
        fmt::print(stderr, "{}: peak of {:.1f} MB is less than the mesh itself, {:.1f} MB\n", name, run.peak_MB,
                   mesh_MB);
        run.triangles = 0;
    }
    return write(3, &run, sizeof run) == static_cast<ssize_t>(sizeof run) ? 0 : 1;
}

void compare(const std::string& title, std::size_t bytes, const std::string& file,
             const std::vector<const char*>& readers) {
    constexpr int kTurns = 5;
    std::vector<Run> best(readers.size());
    for (int turn = 0; turn < kTurns; ++turn) {
        for (std::size_t i = 0; i < readers.size(); ++i) {
            const Run run = in_new_process(readers[i], file);
            if (run.triangles > 0 && run.seconds < best[i].seconds) {
                best[i] = run;
            }
        }
    }
    const double file_MB = static_cast<double>(bytes) / (1024 * 1024);
    fmt::print("{} ({:.1f} MB)\n", title, file_MB);
    for (std::size_t i = 0; i < readers.size(); ++i) {
        const Run& run = best[i];
        if (run.triangles == 0) {
            fmt::print("  {:<28} failed\n", readers[i]);
            continue;
        }
        fmt::print("  {:<28} {:9.1f} ms  {:6.2f} x ours  {:7.1f} MB = {:5.2f} x file  {} triangles, {} corners\n",
                   readers[i], 1000 * run.seconds, run.seconds / best[0].seconds, run.peak_MB, run.peak_MB / file_MB,
                   run.triangles, run.corners);
    }
}

} // namespace

int main(int argc, char** argv) {
    if (argc == 4 && std::string(argv[1]) == "--read") {
        return read_and_tell(argv[2], argv[3]);
    }
    const double wanted = argc > 1 ? std::atof(argv[1]) : 1e6;
    const int n = std::max(3, static_cast<int>(std::lround(std::sqrt(wanted / 2))));
    const test::Folder folder;
    std::vector<std::pair<std::string, std::size_t>> files;
    {
        const TriangleMesh torus = torus_shape(300, 100, n, n);
        const auto add = [&](const char* name, const std::string& bytes) {
            files.emplace_back(folder.write(name, bytes).string(), bytes.size());
        };
        add("binary.stl", test::binary_stl(torus));
        add("text.stl", test::text_stl(torus));
        add("torus.obj", test::obj(torus));
        add("torus.ply", test::ply(torus, true));
    }
    const char* titles[] = {"STL, binary", "STL, text", "OBJ", "PLY, binary"};
    for (std::size_t i = 0; i < files.size(); ++i) {
        const auto& [file, bytes] = files[i];
        std::vector<const char*> readers{kReaders[0].name, kReaders[1].name, kReaders[2].name};
        if (i == 2) {
            readers.push_back(kReaders[3].name);
        }
        compare(titles[i], bytes, file, readers);
    }
    return 0;
}
