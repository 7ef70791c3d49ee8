"""A backup and its tables as jsonschema, zipfile and pandas read them. Any difference ends the run."""

import hashlib
import json
import sys
import zipfile

import jsonschema
import pandas

backup, schema, table, trials = sys.argv[1:]
zip_file = zipfile.ZipFile(backup)
assert zip_file.testzip() is None
manifest = json.loads(zip_file.read("manifest.json"))
for part in manifest["parts"]:
    content = zip_file.read(part["name"])
    assert hashlib.sha256(content).hexdigest() == part["sha256"], part
print(f"zipfile: {len(manifest['parts'])} parts, every SHA-256 as the manifest says")

rows = json.loads(zip_file.read("workshop.json"))
schema = json.load(open(schema))
jsonschema.Draft202012Validator.check_schema(schema)
errors = list(jsonschema.Draft202012Validator(schema).iter_errors(rows))
assert not errors, errors[:3]
bad = json.loads(json.dumps(rows))
face = next(trial for trial in bad["trial"] if trial["surface"] == "face")
face["marks"]["impacts"][0]["at"]["x_mm"] = "left"
del bad["bow"][0]["uid"]
found = len(list(jsonschema.Draft202012Validator(schema).iter_errors(bad)))
assert found == 2, found
print(f"jsonschema: workshop.json valid; a spoilt copy has {found} errors")

frame = pandas.read_csv(table, parse_dates=["time (UTC)"])
bow = next(row["id"] for row in rows["bow"] if row["name"] == "Heron")
marks = [trial["marks"] for trial in rows["trial"] if trial["bow_id"] == bow]
places = [impact["at"] for mark in marks for impact in mark["impacts"]]
impacts = frame[frame["surface"] == "face"]
assert len(frame) == sum(len(mark["impacts"]) + len(mark["tears"]) for mark in marks)
assert sorted(impacts["right (mm)"]) == sorted(place["x_mm"] for place in places)
assert frame["time (UTC)"].dt.year.min() > 1969
print(f"pandas: {len(frame)} arrows, places equal to the last digit")

lines = pandas.read_csv(trials, parse_dates=["time (UTC)", "struck"])
kept = [trial for trial in rows["trial"] if trial["bow_id"] == bow]
assert len(lines) == len(kept)
for kind, column in [("fletched", "fletched"), ("bare", "bare"), ("broadhead", "broadheads")]:
    counted = [mark["kind"] for trial in kept for mark in trial["marks"]["impacts"] if mark["excluded"] is None]
    assert lines[column].sum() == counted.count(kind), column
# A split is the probes' mean less the fletched ones': counted here from the table of arrows.
means = impacts[impacts["left out"].isna()].groupby(["trial", "arrow"])["right (mm)"].mean().unstack()
split = (means["bare"] - means["fletched"]).dropna()
told = lines.set_index("trial")["bare right (mm)"].dropna()
assert len(told) and (told - split.loc[told.index]).abs().max() < 0.0006, (told, split)
assert (lines["bare right low 95 (mm)"].dropna() < lines["bare right (mm)"].dropna()).all()
print(f"pandas: {len(lines)} trials, {len(told)} splits of bare shafts as counted from the arrows")
