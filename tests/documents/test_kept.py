"""Documents that were read before: the same ones, read anew whenever anything is otherwise."""

import pickle

import pytest
from drawn_models import jobs, products, schedules, settings_, shops
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finishsched.documents import cache_folder, decode, kept, library
from finishsched.documents.faults import DocumentFaultsError


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    """Keep what is read in a folder of the test's own."""
    monkeypatch.setenv("FINISHSCHED_CACHE", str(tmp_path / "kept"))
    cache_folder.cache_folder.cache_clear()
    yield tmp_path / "kept" / "documents"
    cache_folder.cache_folder.cache_clear()


def _never(*_):
    raise AssertionError("it was read again")


def _text():
    return library.schedule_text(library.schedule_names()[0])


@pytest.mark.parametrize("name", library.schedule_names())
def test_what_is_kept_of_a_shipped_schedule_is_what_was_read(name, monkeypatch):
    """Model, places, notices and kind come back equal, without reading the text again."""
    data = library.schedule_text(name).encode()
    fresh = kept.read(data, name)
    monkeypatch.setattr(decode, "read", _never)
    assert kept.read(data, name) == fresh


@pytest.mark.parametrize("name", library.product_names())
def test_what_is_kept_of_a_shipped_product_is_what_was_read(name, monkeypatch):
    """Every kind of value that a product can hold survives being kept."""
    data = library.product_text(name).encode()
    fresh = kept.read(data, name)
    monkeypatch.setattr(decode, "read", _never)
    assert kept.read(data, name) == fresh


@settings(
    max_examples=60,
    suppress_health_check=[
        HealthCheck.function_scoped_fixture, HealthCheck.too_slow, HealthCheck.data_too_large,
    ],
)  # fmt: skip
@given(model=st.one_of(jobs, shops, settings_, products, schedules))
def test_whatever_is_read_is_kept_exactly(model):
    """Drawn documents of every kind come back from what is kept as they were read."""
    data = decode.dump(model).encode()
    fresh = kept.read(data, "drawn.yaml")
    assert kept._kept(kept._file_of(data, "drawn.yaml")) == fresh


def test_another_text_name_or_kind_is_read_anew():
    """One character more, another name or a wrong kind is never answered from what is kept."""
    data = _text().encode()
    first = kept.read(data, "a.yaml")
    assert kept.read(data, "b.yaml").name == "b.yaml"
    changed = data.replace(b"title:", b"# so\ntitle:", 1)
    assert kept.read(changed, "a.yaml").places != first.places
    with pytest.raises(DocumentFaultsError, match="wanted here"):
        kept.read(data, "a.yaml", kind="job")


def test_faults_are_told_each_time(folder):
    """A document with faults is never kept, so that it goes on telling them."""
    for _ in range(2):
        with pytest.raises(DocumentFaultsError):
            kept.read(b"job: x\npieces: 3\n", "x.yaml")
    assert not folder.exists()


def test_a_program_that_changed_reads_anew(monkeypatch):
    """What another version of the program kept is not looked at."""
    data = _text().encode()
    before = kept._file_of(data, "a.yaml")
    monkeypatch.setattr(kept, "_stamp", lambda: "another program")
    assert kept._file_of(data, "a.yaml") != before


@pytest.mark.parametrize("garbage", [b"", b"no pickle", pickle.dumps(["a list"]), b"\x80\x05."])
def test_garbage_in_what_is_kept_is_read_anew(garbage):
    """Whatever stands there, the document is read as ever."""
    data = _text().encode()
    file = kept._file_of(data, "a.yaml")
    file.parent.mkdir(parents=True)
    file.write_bytes(garbage)
    assert kept.read(data, "a.yaml") == decode.read(data, "a.yaml")
    assert kept._kept(file) is not None


class _Runs:
    def __reduce__(self):
        return print, ("taken over",)


def test_nothing_runs_that_is_no_part_of_a_document(capsys):
    """What is kept makes documents only: a call that somebody put there is refused."""
    data = _text().encode()
    file = kept._file_of(data, "a.yaml")
    file.parent.mkdir(parents=True)
    file.write_bytes(pickle.dumps(_Runs()))
    assert kept.read(data, "a.yaml") == decode.read(data, "a.yaml")
    assert "taken over" not in capsys.readouterr().out


def test_nothing_runs_that_a_module_of_ours_has_imported(capsys):
    """A name that leads through a module of ours to another one's is refused."""
    data = _text().encode()
    file = kept._file_of(data, "a.yaml")
    file.parent.mkdir(parents=True)
    module, name, said = b"finishsched.documents.kept", b"sys.stdout.write", b"taken over"
    texts = (b"\x8c" + bytes([len(text)]) + text for text in (module, name, said))
    call = b"\x80\x04%b%b\x93%b\x85R." % tuple(texts)
    file.write_bytes(kept._sum(call) + call)
    assert kept.read(data, "a.yaml") == decode.read(data, "a.yaml")
    assert "taken over" not in capsys.readouterr().out


def test_a_flipped_bit_in_what_is_kept_is_never_believed():
    """Wherever a bit turns in it, the document that is read is the one that is written."""
    data = _text().encode()
    truth = kept.read(data, "a.yaml")
    file = kept._file_of(data, "a.yaml")
    whole = file.read_bytes()
    for at in range(0, len(whole), max(1, len(whole) // 150)):
        bad = bytearray(whole)
        bad[at] ^= 1 << at % 8
        file.write_bytes(bad)
        assert kept._kept(file) is None
    assert kept.read(data, "a.yaml") == truth


def test_a_folder_that_may_not_be_written_changes_nothing(folder):
    """Where nothing can be kept, documents are read as ever."""
    folder.parent.write_text("a file stands in the way")
    data = _text().encode()
    assert kept.read(data, "a.yaml") == decode.read(data, "a.yaml")


def test_old_readings_go(folder, monkeypatch):
    """No more than so many are kept, and the newest stay."""
    monkeypatch.setattr(kept, "MOST_KEPT", 10)
    monkeypatch.setattr(kept, "_LOOKED_THROUGH", 1)
    data = _text().encode()
    for number in range(25):
        kept.read(data, f"{number}.yaml")
    assert len(list(folder.iterdir())) <= 10
    assert kept._file_of(data, "24.yaml").exists()
