"""Writes darwin_core_terms.csv: the terms of Darwin Core that an event and an occurrence may have, by the definitions of
their core types (issued 2022-02-02) as the package dwca-writer 0.2.0 (MIT) carries them:

    pip download --no-deps dwca-writer==0.2.0 && unzip dwca_writer-0.2.0-py3-none-any.whl
    python3 make_darwin_core_terms.py dwcawriter/data/core > darwin_core_terms.csv
"""

import sys
import xml.etree.ElementTree as tree

NAMESPACE = "{http://rs.gbif.org/extension/}"

print("# Terms of Darwin Core by class, from dwc_event_2022-02-02.xml and dwc_occurrence_2022-02-02.xml in dwca-writer 0.2.0;")
print("# made by make_darwin_core_terms.py")
print("class,term,uri,type")
for name in ["event", "occurrence"]:
    root = tree.parse(f"{sys.argv[1]}/dwc_{name}_2022-02-02.xml").getroot()
    for item in root.iter(f"{NAMESPACE}property"):
        fields = [name, item.get("name"), item.get("qualName"), item.get("type", "")]
        print(",".join(fields))
