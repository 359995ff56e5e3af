#!/bin/sh
# Other people's test data, by package from the distribution, unpacked into a folder of the build (slim images leave out
# what lies in usr/share/doc, so the packages are not installed). Nothing of it is kept in the repository.
#
#   open_data.sh FOLDER
set -eu
folder=$1
for package in gmsh-doc; do
  [ -d "$folder/$package" ] && continue
  work=$(mktemp -d)
  trap 'rm -rf "$work"' EXIT
  chmod 755 "$work" # apt's own user writes there
  if (cd "$work" && apt-get download -qq "$package" >/dev/null 2>&1) && dpkg-deb -x "$work/$package"_*.deb "$work/there"; then
    find "$work/there" -name '*.gz' -exec gunzip -f {} +
    mkdir -p "$folder"
    mv "$work/there" "$folder/$package"
  else
    echo "$package cannot be had: tests that read it say so and are left out" >&2
  fi
done
