#!/usr/bin/env bash
# Write requirements.lock and requirements-dev.lock: names, versions and hashes, no address in any of them.
# The machine's own configuration of pip stays out of it, so that the hashes are the public ones.
set -euo pipefail
cd "$(dirname "$0")/.."

compile() { # compile OUTPUT TITLE [options of pip-compile]
    local output=$1 title=$2
    shift 2
    env -u PIP_FIND_LINKS -u PIP_CONSTRAINT PIP_CONFIG_FILE=/dev/null .venv/bin/pip-compile --quiet \
        --generate-hashes --allow-unsafe --strip-extras --no-header --no-annotate --no-emit-index-url \
        --no-emit-trusted-host --no-emit-find-links --extra build "$@" --output-file ".$output" pyproject.toml
    { echo "# $title: names, versions, hashes. Written by \`make lock\`."; grep -v '^#' ".$output"; } >"$output"
    rm ".$output"
}

compile requirements.lock "Everything that running leanladder installs"
# The same versions again, with what tests and checks need beside them.
compile requirements-dev.lock "Everything that working on leanladder installs" --extra dev \
    --constraint requirements.lock
