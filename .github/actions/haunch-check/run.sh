#!/usr/bin/env bash
# Checks calculations and tells what changed in meaning. Exit status of `haunch check`: a change of
# results is for people to judge, a check that does not hold fails.
#   HAUNCH_PATHS   files and folders, apart by spaces
#   HAUNCH_SINCE   revision to compare with; empty for none
#   HAUNCH_RECORD  results on record; empty for none
#   GITHUB_STEP_SUMMARY  file that the comparison is added to; standard output without it
set -uo pipefail

read -r -a paths <<< "${HAUNCH_PATHS:-.}"
options=(--format github)
if [ -n "${HAUNCH_RECORD:-}" ]; then
  options+=("--baseline=$HAUNCH_RECORD")
fi
haunch check "${options[@]}" -- "${paths[@]}"
status=$?
if [ -n "${HAUNCH_SINCE:-}" ]; then
  haunch diff --format markdown "$HAUNCH_SINCE...HEAD" >> "${GITHUB_STEP_SUMMARY:-/dev/stdout}"
  if [ $? -eq 2 ]; then
    status=2
  fi
fi
exit $status
