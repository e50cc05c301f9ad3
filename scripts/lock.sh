#!/usr/bin/env bash
# Write requirements.lock, requirements-dev.lock and requirements-bench.lock: names, versions and hashes, no
# address in any of them.
# The machine's own configuration of pip stays out of it, so that the hashes are the public ones.
set -euo pipefail
cd "$(dirname "$0")/.."

compile() { # compile OUTPUT TITLE SOURCE [options of pip-compile]
    local output=$1 title=$2 source=$3
    shift 3
    env -u PIP_FIND_LINKS -u PIP_CONSTRAINT PIP_CONFIG_FILE=/dev/null .venv/bin/pip-compile --quiet \
        --generate-hashes --allow-unsafe --strip-extras --no-header --no-annotate --no-emit-index-url \
        --no-emit-trusted-host --no-emit-find-links "$@" --output-file ".$output" "$source"
    { echo "# $title: names, versions, hashes. Written by \`make lock\`."; grep -v '^#' ".$output"; } >"$output"
    rm ".$output"
}

compile requirements.lock "Everything that running leanladder installs" pyproject.toml --extra build
# The same versions again, with what tests and checks need beside them.
compile requirements-dev.lock "Everything that working on leanladder installs" pyproject.toml \
    --extra build --extra dev --constraint requirements.lock
# What `make bench` adds to that; no part of it, so that neither running nor working needs it.
compile requirements-bench.lock "Everything that \`make bench\` compares with" requirements-bench.in \
    --constraint requirements-dev.lock
