"""How what each page creates is mended: by a change, an undo, or a sentence that says why not.

`TABLE` has a line for each route that creates, by its endpoint. `tests/web/test_created_is_mended.py`
finds those routes by itself, and does what each line says.
"""

from tests.builders.mended.growing import GROWING
from tests.builders.mended.parcels import PARCELS
from tests.builders.mended.people import PEOPLE
from tests.builders.mended.sharing import SHARING

TABLE = {**PEOPLE, **GROWING, **SHARING, **PARCELS}
