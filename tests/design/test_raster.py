"""Lines in a raster, however far beyond it they go."""

import numpy as np
import pytest
from shapely import LineString

from peekpaper.design.raster import Raster
from peekpaper.geometry.areas import geometries

RASTER = Raster(0.0, 0.0, 1.0, 10, 8)


@pytest.mark.parametrize("far", [9.5, 1e3, 1e15])
def test_a_line_marks_the_cells_on_its_way_and_what_lies_beyond_them_takes_no_room(far: float) -> None:
    cells = RASTER.along(
        geometries([LineString([(2.5, 3.5), (far, 3.5)]), LineString([(0.5, -far), (0.5, -1)])])
    )
    assert np.argwhere(cells).tolist() == [[3, column] for column in range(2, 10)]
