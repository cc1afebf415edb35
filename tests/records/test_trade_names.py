"""No maker's or trade name stands in the tables; the list is kept as hashes so that this file names none either."""

from __future__ import annotations

import hashlib
import re

import pytest

from screening.records.package import data_folder, table_names

# SHA-256 of the names in small letters, first 20 hexadecimal digits
NAMES = frozenset(
    ["06c7320634c4d6876a54", "0882b1dd268d8d051b53", "0a54971ee1403ee30e7c", "0e7a087cefc750b3f5ab", "0efc7ad87e828dc8ed63", "107eaa270bb4d71418a0", "11c3539d924b003a4212", "124bafca05591e2a6cb7", "139e0835db1115b275de", "13e68b360a2abb79ab67", "14076a945f79ebf37e49", "15fda23517dac82d07c1", "1796e79249d110323d53", "1bc78a16796c79370190", "1dfc6152cdb896f32600", "202f06a2d6da9c65c01b", "202f860cbec18f5b6b0a", "209d0066e722cd538a05", "20d5063bf816be720300", "2208b975dacd5fa17bc4", "2273f96d948908603a17", "23f69f351e287a677f26", "26f67840c83ff6b2cf3b", "2756d7f513c7029c65d2", "27f709401500b288f323", "29b82fa2dfb152c7c296", "2ca9312c406ed7a977a9", "2e8b568499160fbc54f7", "36036cd71a0b12b33ce8", "3a2cb657e4cfead10fde", "3eb20d54f20ae5c5f4fd", "402379d24c9a33ea403a", "40a7ac3450fc6035afbd", "4174c3240ae6d6e0198c", "4230263692fd38f4ed90", "4282406e54bdbc227b79", "43a61c40538fe0875310", "44e26247afd884ce72d6", "483a6243dba273d7dbd7", "4a781ad26b97547cc799", "4a80e97901e5d7ddcfea", "4bff358ac1b68f223887", "4c75a39519684e470f9a", "4d292543f34bf4b023a5", "4e4600190616df3b3cc5", "4f1969ab1c6cea063e3d", "4fd94af79150342f8bf0", "510d2825e0c3646304da", "545c572901d38fa3d89a", "54df8e69de76edecbc94", "554bc016fde3f3dbc908", "59ad3bd3723ee54a0c07", "5ac7015ce8cc9f5a4579", "5b08c98718aa167d8580", "5ee4a7191da7e45b86e9", "608821bcab3c1d765462", "643a7d5b4c6fe37b0e8b", "65adf5a83f3f455fe8a6", "69050508f7fa8e05e2c3", "6a780680a34fd0aa53c1", "6ad25249d67dc3a0424e", "6dc62fe5be365aa40224", "6edcb208647923015aea", "6f35f27347ce8f295b2b", "71efb6a5fe4c0522fa11", "71ffac2d9e6d35381f11", "72600bbad71261ffbde5", "73a7d6f94949c6fc2962", "74367b344deff14ecbb9", "75097323c1d3df77c8e4", "7cae14b0c0f123b9627a", "7ef6b6b072de0782db8b", "868645a03af59110d0c6", "87fb4fe50c1b293a17d8", "8aedfdda6814cc585008", "8b97808642fedf379676", "8fe1f2daf6659011ec4c", "90f131063cdb3d198535", "915c1cde7eec672ab20c", "95bcb85141e0863b94dc", "9789aaadd4911b9f46ad", "99140835b3a0567ba0c1", "99a6cf3e8d84ec93cf58", "9bdefba4d3f9d694fc41", "9d11982e436b302e29c0", "9d56b06388052e3a7e6c", "a14d5a965568643e3473", "a1a1d16f23e9ee6181a8", "a58e03220bf0a56686e1", "a76d5eb03bd46f48f6e0", "a86fb0c2a0ddc6bcab4d", "a97038f4b3dae88694a6", "b043864b7ffb308f63b4", "b0e4d11f2f2b63b215ef", "b15041d9dd7b87bec5b7", "b1979ebc4849a1b15e0d", "b1f302313db194baf289", "b558a78fba37ea8ef28e", "b9e3729c867eb630064c", "bcb1cebb4bd8d7a53bfb", "c1ae2551edaf2850e04b", "c3a8edb129638d59bb52", "c46e0b1b55f9c2327280", "c4a3ec689da94dcf0df1", "c9472a54d4248b47b005", "cebdc0ac5ea7cdcffce7", "d461d041b21282f7f537", "d72f51b2ee5dfe607a27", "dbb8e166839f6b2c0e3f", "dc9915786184c93cf55b", "dcecb130001c9fe70d8b", "dfcfe3c89d85b57d2fd6", "e02346c759d1571ac98c", "e0896819a4c9d732d284", "e360ee4319a744ac06ba", "e62617d703c9bf8d0a03", "e68701a6f34d0e0df964", "e8c0fe81a7eab6895940", "e92a3eefeb08a7b50b74", "eb70e1689b1f0ec5875a", "ebd5015477b064ad94d7", "ebe95cce2b89d0b6da04", "ed607646b96ec5e5b8e2", "edfde2e013b701b8dc86", "ee4ce44664383c105bfd", "f00bf8fd02a9d9783c1d", "f3c1b457eeefa2b44de1", "f417d48787a1d9a7f77b", "f7be1f623f60cfe16abf", "f808466f7f21ac700283", "f91d44d7bb383ec92352", "f937cee8112e1d3c63e4", "fb473fd838927b42da81", "fc9515aedc54ff46a63a", "fc9f1ea2c8480d7bab12", "fe0567458a7be6ffa6f8", "ff109e13fd9cd93f8fdb", "ff1a0486a441070e065e", "ffcf2d2dd7b5832aeb9b"]
)


def _hashed(word: str) -> str:
    return hashlib.sha256(word.casefold().encode()).hexdigest()[:20]


@pytest.mark.parametrize("name", table_names())
def test_no_trade_names(name: str) -> None:
    text = (data_folder() / f"{name}.csv").read_text(encoding="utf-8")
    words = set(re.findall(r"[A-Za-z0-9]+(?:-[A-Za-z0-9]+)*", text)) | set(re.findall(r"[A-Za-z]{3,}", text))
    assert sorted(word for word in words if _hashed(word) in NAMES) == []


def test_the_list_can_catch_one() -> None:
    assert len(NAMES) > 100
    assert _hashed("polymer") not in NAMES
