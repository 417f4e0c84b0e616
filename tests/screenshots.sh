#!/usr/bin/env bash
# Makes the pictures of the guides anew, from the program as it is: docs/images/*.png.
set -euo pipefail
cd "$(dirname "$0")/.."
dotnet build tests/StagedMargins.Browser.Tests -v q --nologo
STAGEDMARGINS_GUIDE_PICTURES="$PWD/docs/images" dotnet test --project tests/StagedMargins.Browser.Tests --no-build --filter-class '*GuidePictures'
