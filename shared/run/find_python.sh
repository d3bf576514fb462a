#!/bin/sh
# Print the first Python of 3.11 or newer, or say that there is none.
for name in python3 python3.14 python3.13 python3.12 python3.11 python; do
    found=$(command -v "$name" 2>/dev/null) || continue
    if "$found" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
        echo "$found"
        exit 0
    fi
done
if command -v python3 >/dev/null 2>&1; then
    echo "Python 3.11 or newer is needed; this machine has $(python3 --version 2>&1). Install a newer one and try again." >&2
else
    echo "Python 3.11 or newer is needed and none was found. On Debian and Ubuntu: sudo apt-get install python3" >&2
fi
exit 1
