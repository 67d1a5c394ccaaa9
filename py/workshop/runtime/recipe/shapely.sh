# shapely: its three extension modules and GEOS in one shared object, so that GEOS is linked once.
set -euo pipefail
export EM_CACHE=/w/emcache PATH=/w/venv/bin:$PATH
rm -rf /w/numpy-wheel && mkdir -p /w/numpy-wheel && cd /w/numpy-wheel
python -m zipfile -e /w/out/numpy-*.whl .
cd "/w/src/shapely-$1"
rm -rf objects && mkdir -p objects
# shapely calls this function with two arguments and declares three: processors forgive that, WebAssembly ends
# the program.
sed -i 's/static int GetNumPoints(void\* context, void\* geom, int n)/static int GetNumPoints(void* context, void* geom)/' src/ufuncs.c
grep -q 'static int GetNumPoints(void\* context, void\* geom) {' src/ufuncs.c
for module in _geos _geometry_helpers; do
  cython -3 -I /w/numpy-wheel "shapely/$module.pyx" -o "objects/$module.c" --module-name "shapely.$module"
done
for source in src/*.c objects/*.c; do
  wcc -O2 -DNDEBUG -DGEOS_USE_ONLY_R_API -DNPY_NO_DEPRECATED_API=0 -DNPY_TARGET_VERSION=NPY_1_20_API_VERSION \
    -Isrc -Ishapely -I/w/numpy-wheel/numpy/_core/include -I/w/include/python3.14 -I/w/geos/include \
    -c "$source" -o "objects/$(basename "$source" .c).o"
done
WCC_EXPORTS=_PyInit_lib,_PyInit__geos,_PyInit__geometry_helpers \
  wc++ -shared objects/*.o /w/geos/lib/libgeos_c.a /w/geos/lib/libgeos.a \
  -o shapely/lib.cpython-314-wasm32-emscripten.so
