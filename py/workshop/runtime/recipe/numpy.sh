# numpy without BLAS, as a wheel in /w/out.
set -euo pipefail
export EM_CACHE=/w/emcache PATH=/w/venv/bin:$PATH
cd "/w/src/numpy-$1"
_PYTHON_SYSCONFIGDATA_NAME=$(cat /w/sysconfig/name)
export _PYTHON_SYSCONFIGDATA_NAME PYTHONPATH=/w/sysconfig _PYTHON_HOST_PLATFORM=emscripten-wasm32
python -m pip wheel . -v --no-build-isolation --no-deps --no-index -w /w/out \
  -Csetup-args=--cross-file=/w/recipe/cross.ini -Csetup-args=-Dblas=none -Csetup-args=-Dlapack=none \
  -Csetup-args=-Dallow-noblas=true -Csetup-args=-Dbuildtype=release -Csetup-args=-Doptimization=2 \
  -Csetup-args=-Ddisable-optimization=true \
  -Cinstall-args=--tags=runtime,python-runtime,devel -Ccompile-args=-j"$JOBS"
