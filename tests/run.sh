#!/usr/bin/env bash
# Runs every test project and closes with the line "N passed, N failed, N skipped".
# Installs what is missing on a Debian-like machine (PostgreSQL, chromium); needs the .NET 10 SDK.
set -uo pipefail
cd "$(dirname "$0")/.."

say() { printf '\n== %s\n' "$*"; }
fail() { printf '%s\n' "$*" >&2; printf '0 passed, 1 failed, 0 skipped\n'; exit 1; }

command -v dotnet >/dev/null || fail "The .NET 10 SDK is needed: dotnet is not on the PATH."

# PostgreSQL: a server that is given, a Docker engine, or the machine's own programs.
has_postgres() {
  [ -n "${STAGEDMARGINS_TEST_POSTGRES:-}" ] || docker info >/dev/null 2>&1 || compgen -G '/usr/lib/postgresql/*/bin/initdb' >/dev/null
}
install_package() {
  say "Installing $1"
  command -v apt-get >/dev/null || fail "The tests need $1: install it (see DEVELOPERS.md)."
  local as_root=() log
  [ "$(id -u)" -eq 0 ] || as_root=(sudo)
  log=$(mktemp)
  { "${as_root[@]}" apt-get update -qq && "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$1"; } >"$log" 2>&1 \
    || { tail -n 20 "$log" >&2; fail "$1 could not be installed."; }
}

# The package may start a server of its own; the tests make a throw-away one.
has_postgres || install_package postgresql

# A real browser for the pages.
if ! command -v chromium >/dev/null && [ -z "${STAGEDMARGINS_TEST_CHROMIUM:-}" ]; then
  install_package chromium
fi

results=$PWD/TestResults
rm -rf "$results"

say "Building"
dotnet restore StagedMargins.sln --locked-mode --nologo -v q || fail "The restore failed; after a change of packages run 'dotnet restore --force-evaluate' and commit the lock files."
dotnet build StagedMargins.sln --no-restore --nologo -v q || fail "The build failed."

say "Testing"
mkdir -p "$results"
# All projects at once: one that waits leaves the processors to the others.
dotnet test --solution StagedMargins.sln --no-build --max-parallel-test-modules 8 --results-directory "$results" | tee "$results/output.txt"
code=${PIPESTATUS[0]}

total=0 passed=0 failed=0
for trx in "$results"/*.trx; do
  [ -e "$trx" ] || fail "No test ran."
  line=$(grep -o '<Counters [^>]*>' "$trx") || fail "A test project ended without results: $trx"
  count() { grep -o " $1=\"[0-9]*\"" <<<"$line" | grep -o '[0-9]*'; }
  total=$((total + $(count total))) passed=$((passed + $(count passed))) failed=$((failed + $(count failed)))
done

# Where the time went.
seconds_between() { echo $(($(date -d "$2" +%s) - $(date -d "$1" +%s))); }
attribute() { sed -E "s/.* $1=\"([^\"]*)\".*/\1/" <<<"$2"; }
say "Time of each project"
for trx in "$results"/*.trx; do
  times=$(grep -o '<Times [^>]*>' "$trx")
  printf '%5d s  %s\n' "$(seconds_between "$(attribute start "$times")" "$(attribute finish "$times")")" "$(basename "$trx" .trx)"
done
say "The ten slowest tests"
grep -ho '<UnitTestResult [^>]*>' "$results"/*.trx \
  | sed -E 's/.* testName="([^"]*)".*/&\n\1/; s/^.* duration="([0-9]+):([0-9]+):([0-9.]+)".*\n/\1 \2 \3 /' \
  | awk '{ seconds = $1 * 3600 + $2 * 60 + $3; $1 = $2 = $3 = ""; sub(/^ +/, ""); printf "%7.1f s  %s\n", seconds, $0 }' | sort -rn | head -n 10

# What failed, once more and last, where a long output cannot hide it.
if [ "$failed" -gt 0 ]; then
  say "Failed"
  grep -A 8 '^failed ' "$results/output.txt"
fi
projects=$(find tests -name '*.Tests.csproj' | wc -l)
reports=$(find "$results" -name '*.trx' | wc -l)
[ "$projects" -eq "$reports" ] || { echo "$projects test projects, but $reports reports." >&2; failed=$((failed + 1)); code=1; }
[ "$total" -gt 0 ] || { failed=$((failed + 1)); code=1; }
[ "$failed" -eq 0 ] || code=1
printf '\n%d passed, %d failed, %d skipped\n' "$passed" "$failed" "$((total - passed - failed > 0 ? total - passed - failed : 0))"
exit "$code"
