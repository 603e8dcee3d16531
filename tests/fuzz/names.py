"""Names of the targets, apart from them: the driver does not import what it fuzzes."""

NAMES = (
    "shop-bytes",
    "shop-values",
    "csv-rows",
    "arguments",
    "store-bytes",
    "stored-values",
    "put-back",
    "text-out",
)
