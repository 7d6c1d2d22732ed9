"""A small invented catalogue with one of everything, and ways to spoil it."""

from collections.abc import Mapping

from planner.catalogue import read_catalogue_bytes
from planner.errors import BadInput

SAMPLE: Mapping[str, str] = {
    "processors.csv": """\
sku,name,rendered_channels,processed_outputs,gain,polarity,max_delay_ms,filters,crossover_ways,card_slots,noise_dbu
P1,Processor of sixteen,16,16,yes,yes,100,20,2,2,-96.5
R1,"Receiver, small",8,9,yes,no,20,0,1,,
""",
    "cards.csv": """\
sku,name,fits,slots,adds_processed_outputs
CARD,Output card,P1,1,4
""",
    "dsp_units.csv": """\
sku,name,inputs,outputs,gain,polarity,max_delay_ms,filters,crossover_ways,outputs_per_input,rack_units,class_ii
D24,Two in four out,2,4,yes,yes,80,10,2,,1,no
D24F,"Two in four out, fixed",2,4,yes,yes,80,10,2,2,1,yes
""",
    "amplifiers.csv": """\
sku,name,channels,power_8ohm_w,power_4ohm_w,sensitivity_v,rack_units
A2,Two channels,2,200,350,1.4,2
""",
    "loudspeakers.csv": """\
sku,name,powering,ways,sensitivity_db,sensitivity_at_2v83,impedance_ohm,handling_w,max_spl_db
L-P,Passive,passive,,88,yes,8,150,
L-A,Active,active,,,,,,112
L-X,Crossed,crossed,2,97,no,8,300,
""",
    "subwoofers.csv": """\
sku,name,powering,low_corner_hz,max_spl_db,sensitivity_db,impedance_ohm,least_impedance_ohm
S-A,Active,active,24,115,,,
S-P,Passive,passive,30,,90,4,3.2
""",
    "leads.csv": """\
sku,name,end_a,end_b,balanced,length_m
LEAD,XLR lead 5 m,xlr female,xlr male,yes,5
""",
    "adapters.csv": """\
sku,name,end_a,end_b
AD,RCA to XLR,rca female,xlr male
""",
    "splitters.csv": """\
sku,name,input,leg,legs,balanced
Y,Y piece,rca male,rca female,2,no
""",
    "isolators.csv": """\
sku,name,input,output,balanced,loss_db
ISO,Transformer,xlr female,xlr male,yes,0.5
""",
    "bulk_cables.csv": """\
sku,name,kind,step_m,area_mm2
CABLE,Loudspeaker cable,speaker,1,2.5
""",
    "connectors.csv": """\
sku,name,contact
PLUG,XLR plug,xlr male
""",
    "ports.csv": """\
device,name,direction,role,connector,balanced,count,channels,output_stage,max_level_dbu,sensitivity_v,impedance_ohm,pin_order
P1,OUT,out,assignable,xlr,yes,16,,symmetrical,20,,100,
R1,PRE,out,fixed_main,rca,no,3,L;C;R,unbalanced,,,470,
R1,SUB,out,mirrored_sub,rca,no,2,,,,,,
CARD,OUT,out,assignable,terminal,yes,4,,,,,,+;-;shield
D24,IN,in,plain,rca,no,2,,,,,,
D24,OUT,out,plain,rca,no,4,,,,,,
D24F,IN,in,plain,xlr,yes,2,,,,,,
D24F,OUT,out,plain,xlr,yes,4,,,,,,
A2,IN,in,plain,xlr,yes,2,,,,1.4,20000,
A2,SPK,out,plain,binding_post,no,2,,,,,,
L-P,IN,in,plain,binding_post,no,1,,,,,,
L-A,IN,in,plain,xlr,yes,1,,,,1.2,10000,
L-X,1 LOW,in,plain,speaker_4pole,no,1,,,,,,
L-X,2 HIGH,in,plain,speaker_4pole,no,1,,,,,,
S-A,IN,in,plain,rca,no,1,,,,1,10000,
S-A,LINK,out,link,rca,no,1,,,,,,
S-P,IN,in,plain,binding_post,no,1,,,,,,
""",
    "prices.csv": """\
sku,supplier,currency,price,priced_on,stock,least_order
P1,Acme,EUR,4999.00,2026-11-01,3,1
P1,Best,USD,5100,2026-10-15,,
LEAD,Acme,EUR,19.9,2026-11-01,,10
CABLE,Best,USD,0.125,2026-10-15,,
""",
}

HEADER_ONLY = {name: text.splitlines()[0] + "\n" for name, text in SAMPLE.items()}


def encoded(files: Mapping[str, str]) -> dict[str, bytes]:
    """Texts as the files that an upload would bring."""
    return {name: text.encode() for name, text in files.items()}


def spoilt(name: str, old: str, new: str) -> dict[str, str]:
    """The sample with one text in one file replaced, which must stand there exactly once."""
    assert SAMPLE[name].count(old) == 1, f"{old!r} stands {SAMPLE[name].count(old)} times in {name}"
    return {**SAMPLE, name: SAMPLE[name].replace(old, new)}


def messages(files: Mapping[str, str] | Mapping[str, bytes]) -> list[str]:
    """What is said of these files; nothing if they are sound."""
    raw = {name: text.encode() if isinstance(text, str) else text for name, text in files.items()}
    try:
        read_catalogue_bytes(raw)
    except BadInput as error:
        return [str(fault) for fault in error.faults]
    return []
