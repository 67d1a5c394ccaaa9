# The cross tool chain: headers, emcc's sysroot, and the Python tools that numpy and shapely are built with.
set -euo pipefail
ln -sf /w/recipe/compiler.py /w/bin/wcc
ln -sf wcc /w/bin/wc++
chmod +x /w/recipe/compiler.py
python3.14 /w/recipe/headers.py
export EM_CACHE=/w/emcache
echo 'int main(){}' > /tmp/x.c
emcc -c /tmp/x.c -o /tmp/x.o # makes the sysroot's headers and no system libraries
emcc --version | head -n 1
python3.14 -m venv /w/venv
/w/venv/bin/pip install --quiet --no-index --find-links /w/tools --require-hashes -r /w/recipe/tools.txt
