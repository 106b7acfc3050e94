"""What all tests share: a cache of their own, and the kit with every pack that ships."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from speclint.files.kit import load_kit
from speclint.review.kit import Kit


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Tests never read or fill the cache folder of whoever runs them."""
    patch = pytest.MonkeyPatch()
    patch.setenv("SPECLINT_CACHE", str(tmp_path_factory.mktemp("cache")))
    yield
    patch.undo()


@pytest.fixture(scope="session")
def kit(_own_cache: None) -> Kit:
    """The kit of the packs that ship."""
    return load_kit()
