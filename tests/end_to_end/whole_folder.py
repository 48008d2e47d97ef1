"""A results folder as DESIGN section 16 promises it: with a manifest it is whole."""
import hashlib
import json
import os

from runner import DEMO

QUICK = 'step = "0.40 m"'


def quick_room(folder):
    """The demo's room file with few spots and frequencies, as my.toml."""
    path = folder / "my.toml"
    path.write_text(DEMO.read_text().replace('step = "0.10 m"', QUICK) + "\n\n[analysis]\nper_octave = 12\n")
    assert QUICK in path.read_text()
    return path


def contents(folder):
    return {p.name: p.read_bytes() if p.is_file() else None for p in folder.iterdir()}


def check_manifest(folder):
    """The manifest of a whole folder: {file: run}. Every hash is worked out here."""
    manifest = json.loads((folder / "manifest.json").read_text())
    assert isinstance(manifest["run"], str) and manifest["run"]
    for entry in manifest["files"]:
        assert hashlib.sha256((folder / entry["name"]).read_bytes()).hexdigest() == entry["sha256"], entry
    return {entry["name"]: entry["run"] for entry in manifest["files"]}


def check_swept(folder):
    """The manifest of a folder that holds what it lists, and nothing else."""
    files = check_manifest(folder)
    assert set(contents(folder)) == set(files) | {"manifest.json"}
    return files


def hidden(folder):
    """The files that a run has written beside their places."""
    try:
        return [name for sub in folder.glob(".boxroom-unfinished-*") for name in os.listdir(sub)]
    except FileNotFoundError:  # it was just taken away
        return []
