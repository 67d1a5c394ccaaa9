# GEOS as static libraries.
set -euo pipefail
rm -rf /w/geos-build && mkdir -p /w/geos-build && cd /w/geos-build
cmake -G Ninja "/w/src/geos-$1" -DCMAKE_SYSTEM_NAME=Generic -DCMAKE_SYSTEM_PROCESSOR=wasm32 \
  -DCMAKE_TRY_COMPILE_TARGET_TYPE=STATIC_LIBRARY -DCMAKE_C_COMPILER=/w/bin/wcc -DCMAKE_CXX_COMPILER=/w/bin/wc++ \
  -DCMAKE_AR=/usr/bin/llvm-ar-21 -DCMAKE_RANLIB=/usr/bin/llvm-ranlib-21 \
  -DCMAKE_BUILD_TYPE=Release -DCMAKE_CXX_FLAGS_RELEASE='-O2 -DNDEBUG' -DCMAKE_C_FLAGS_RELEASE='-O2 -DNDEBUG' \
  -DBUILD_SHARED_LIBS=OFF -DBUILD_TESTING=OFF -DBUILD_GEOSOP=OFF -DBUILD_DOCUMENTATION=OFF \
  -DCMAKE_INSTALL_PREFIX=/w/geos
ninja -j"$JOBS"
ninja install
