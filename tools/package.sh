#!/usr/bin/env bash
# Makes what people without an SDK install, from what is committed, into artifacts/packages with its checksums:
#
#   tools/package.sh [--revision N] [WHAT…]
#
# WHAT is deb-amd64 or deb-arm64 (a Debian package with a service), linux-x64, linux-arm64 or win-x64 (the program as one file);
# without any, all five. --revision is the Debian package's revision, 1 where it is not said. Needs the SDK, git, python3, dpkg-deb.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
revision=1; if [ "${1:-}" = --revision ]; then revision=$2; shift 2; fi
[ $# -gt 0 ] || set -- deb-amd64 deb-arm64 linux-x64 linux-arm64 win-x64
version=$(sed -n 's:.*<Version>\(.*\)</Version>.*:\1:p' Directory.Build.props)
out=$PWD/artifacts/packages; mkdir -p "$out"
work=$(mktemp -d); trap 'rm -rf "$work"' EXIT
# A copy: publishing for other machines writes their packages into the lock files.
git archive HEAD | tar -x -C "$work"
stamp=$(git log -1 --format=%ct)

publish() { # RUNTIME FOLDER PROPERTY…
  local runtime=$1 folder=$2; shift 2
  dotnet publish "$work/src/RigDaq.Daemon" -c Release -r "$runtime" --self-contained -o "$folder" --nologo -v q -clp:ErrorsOnly \
    -p:RunAnalyzers=false -p:DebugType=none "$@"
  find "$folder" -maxdepth 1 -name 'RigDaq.*.xml' -delete; rm -f "$folder/rigdaq.xml"
}

single() { # RUNTIME: everything in one file, natives too; those are unpacked below the user's home when it starts.
  local name=rigdaq; [[ $1 != win-* ]] || name=rigdaq.exe
  publish "$1" "$work/one-$1" -p:PublishSingleFile=true -p:IncludeNativeLibrariesForSelfExtract=true -p:EnableCompressionInSingleFile=true
  local beside; beside=$(find "$work/one-$1" -type f ! -name "$name")
  [ -z "$beside" ] || { echo "Not one file: $beside" >&2; exit 1; }
  local file=$out/rigdaq-$version-$1${name#rigdaq}
  mv "$work/one-$1/$name" "$file"
  echo "$file"
}

texts() { # The manual and the completions, as the program itself tells them; once, on this machine.
  [ -e "$work/texts/rigdaq.1" ] && return
  dotnet build "$work/src/RigDaq.Daemon" -c Release --nologo -v q -clp:ErrorsOnly -p:RunAnalyzers=false
  mkdir "$work/texts"
  local program=$work/src/RigDaq.Daemon/bin/Release/net10.0/rigdaq.dll shell
  dotnet "$program" manual > "$work/texts/rigdaq.1"
  dotnet "$program" schema > "$work/texts/rigdaq.schema.json"
  for shell in bash zsh fish; do dotnet "$program" completion $shell > "$work/texts/$shell"; done
}

deb() { # ARCHITECTURE RUNTIME
  local root=$work/deb-$1
  publish "$2" "$root/usr/lib/rigdaq"
  texts
  chmod -R a+rX,go-w "$root"; find "$root" -type f -exec chmod 644 {} +; chmod 755 "$root/usr/lib/rigdaq/rigdaq"
  local share=$root/usr/share
  install -d "$root/usr/bin" "$root/etc/rigdaq" "$root/DEBIAN" "$share/man/man1" "$share/doc/rigdaq"
  ln -s ../lib/rigdaq/rigdaq "$root/usr/bin/rigdaq"
  install -Dm644 "$work/tools/package/rigdaq.service" "$root/lib/systemd/system/rigdaq.service"
  install -m644 "$work/tools/package/rigdaq.json" "$root/etc/rigdaq/rigdaq.json"
  install -Dm644 "$work/texts/rigdaq.schema.json" "$share/rigdaq/rigdaq.schema.json"
  gzip -9nc "$work/texts/rigdaq.1" > "$share/man/man1/rigdaq.1.gz"
  install -Dm644 "$work/texts/bash" "$share/bash-completion/completions/rigdaq"
  install -Dm644 "$work/texts/zsh" "$share/zsh/vendor-completions/_rigdaq"
  install -Dm644 "$work/texts/fish" "$share/fish/vendor_completions.d/rigdaq.fish"
  cp "$work"/docs/*.md "$share/doc/rigdaq/"
  python3 "$work/tools/package/notices.py" "$root/usr/lib/rigdaq" > "$share/doc/rigdaq/third-party-notices"
  { printf 'RigDaq %s\n\n' "$version"; cat "$work/LICENSE"; printf '\nWorks of others in it: third-party-notices, beside this file.\n'; } \
    > "$share/doc/rigdaq/copyright"
  printf 'rigdaq (%s-%s) stable; urgency=medium\n\n  * Made from %s.\n\n -- The RigDaq authors <rigdaq@example.org>  %s\n' \
    "$version" "$revision" "$(git rev-parse --short HEAD)" "$(date -R -u -d "@$stamp")" | gzip -9n > "$share/doc/rigdaq/changelog.Debian.gz"
  cat > "$root/DEBIAN/control" <<EOF
Package: rigdaq
Version: $version-$revision
Section: science
Priority: optional
Architecture: $1
Maintainer: The RigDaq authors <rigdaq@example.org>
Installed-Size: $(du -sk "$root" | cut -f1)
Depends: adduser, libc6 (>= 2.34), libgcc-s1, libstdc++6
Suggests: mosquitto
Description: daemon of a self-built tensile rig
 Breaks printed specimens on a self-built tensile rig, keeps every run with its
 raw samples, and says what the figures hold. It runs as a service and shows
 its pages on this machine. The software is never the safety device.
EOF
  echo /etc/rigdaq/rigdaq.json > "$root/DEBIAN/conffiles"
  install -m755 "$work"/tools/package/{postinst,prerm,postrm} "$root/DEBIAN/"
  (cd "$root" && find usr lib etc -type f -print0 | sort -z | xargs -0 md5sum > DEBIAN/md5sums)
  chmod 644 "$root/DEBIAN/md5sums" "$root/DEBIAN/control" "$root/DEBIAN/conffiles"; chmod 755 "$root" "$root/DEBIAN"
  find "$root" -type d -exec chmod 755 {} +
  local file=$out/rigdaq_$version-${revision}_$1.deb
  SOURCE_DATE_EPOCH=$stamp dpkg-deb --root-owner-group -Zxz --build "$root" "$file" >/dev/null
  echo "$file"
}

for what in "$@"; do
  case $what in
    deb-amd64) deb amd64 linux-x64 ;;
    deb-arm64) deb arm64 linux-arm64 ;;
    linux-x64|linux-arm64|win-x64) single "$what" ;;
    *) echo "Not known: $what. There are deb-amd64, deb-arm64, linux-x64, linux-arm64, win-x64." >&2; exit 2 ;;
  esac
done
(cd "$out" && find . -maxdepth 1 -type f ! -name SHA256SUMS -printf '%P\n' | sort | xargs -d '\n' sha256sum > SHA256SUMS)
