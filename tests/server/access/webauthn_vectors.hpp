// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/access/secrets.hpp"
#include "tests/support/hex.hpp"

/// Test vectors of W3C Web Authentication Level 3, section 16: RP id example.org, origin https://example.org, in
/// hexadecimal as they stand there. The specification derives them all from the words 'WebAuthn test vectors'.
namespace cellarer::tests::vectors {

struct Ceremony {
  const char* section;
  const char* credential_id;
  const char* registration_challenge;
  const char* registration_client_data;
  const char* attestation_object;
  const char* assertion_challenge;
  const char* assertion_client_data;
  const char* authenticator_data;
  const char* signature;
};

inline const Ceremony none_es256 = {"16.2 ES256 Credential with No Attestation",
                                    "f91f391db4c9b2fde0ea70189cba3fb63f579ba6122b33ad94ff3ec330084be4",
                                    "00c30fb78531c464d2b6771dab8d7b603c01162f2fa486bea70f283ae556e130",
                                    "7b2274797065223a22776562617574686e2e637265617465222c226368616c6c656e6765223a22414d"
                                    "4d507434557878475453746e636471343137"
                                    "59447742466938767049612d7077386f4f755657345441222c226f726967696e223a2268747470733a"
                                    "2f2f6578616d706c652e6f7267222c226372"
                                    "6f73734f726967696e223a66616c73652c22657874726144617461223a22636c69656e74446174614a"
                                    "534f4e206d617920626520657874656e6465"
                                    "642077697468206164646974696f6e616c206669656c647320696e20746865206675747572652c2073"
                                    "75636820617320746869733a20426b516544"
                                    "6a646354427258426941774a544c453551227d",
                                    "a363666d74646e6f6e656761747453746d74a068617574684461746158a4bfabc37432958b063360d3"
                                    "ad6461c9c4735ae7f8edd46592a5e0f01452"
                                    "b2e4b559000000008446ccb9ab1db374750b2367ff6f3a1f0020f91f391db4c9b2fde0ea70189cba3f"
                                    "b63f579ba6122b33ad94ff3ec330084be4a5"
                                    "010203262001215820afefa16f97ca9b2d23eb86ccb64098d20db90856062eb249c33a9b672f26df61"
                                    "225820930a56b87a2fca66334b03458abf87"
                                    "9717c12cc68ed73290af2e2664796b9220",
                                    "39c0e7521417ba54d43e8dc95174f423dee9bf3cd804ff6d65c857c9abf4d408",
                                    "7b2274797065223a22776562617574686e2e676574222c226368616c6c656e6765223a224f63446e55"
                                    "685158756c5455506f334a5558543049393770"
                                    "767a7a59425039745a63685879617630314167222c226f726967696e223a2268747470733a2f2f6578"
                                    "616d706c652e6f7267222c2263726f73734f72"
                                    "6967696e223a66616c73657d",
                                    "bfabc37432958b063360d3ad6461c9c4735ae7f8edd46592a5e0f01452b2e4b51900000000",
                                    "3046022100f50a4e2e4409249c4a853ba361282f09841df4dd4547a13a87780218deffcd3802210084"
                                    "80ac0f0b93538174f575bf11a1dd5d78c6e486"
                                    "013f937295ea13653e331e87"};

/// With a signature by the passkey itself as its attestation; user verified, and backed up at registration.
inline const Ceremony self_es256 = {"16.3 ES256 Credential with Self Attestation",
                                    "455ef34e2043a87db3d4afeb39bbcb6cc32df9347c789a865ecdca129cbef58c",
                                    "7869c2b772d4b58eba9378cf8f29e26cf935aa77df0da89fa99c0bdc0a76f7e5",
                                    "7b2274797065223a22776562617574686e2e637265617465222c226368616c6c656e6765223a226547"
                                    "6e4374334c55745936366b336a506a796e6962"
                                    "506b31716e666644616966715a774c33417032392d55222c226f726967696e223a2268747470733a2f"
                                    "2f6578616d706c652e6f7267222c2263726f73"
                                    "734f726967696e223a66616c73652c22657874726144617461223a22636c69656e74446174614a534f"
                                    "4e206d617920626520657874656e6465642077"
                                    "697468206164646974696f6e616c206669656c647320696e20746865206675747572652c2073756368"
                                    "20617320746869733a205539685458764b4532"
                                    "55526b4d6e625f307859485667227d",
                                    "a363666d74667061636b65646761747453746d74a263616c672663736967584630440220067a20754a"
                                    "b925005dbf378097c92120031581c73228d1fb"
                                    "4f5b881bcd7da98302207fc7b147558c7c0eba3af18bd9d121fa3d3a26d17fe3f220272178f473b600"
                                    "6d68617574684461746158a4bfabc37432958b"
                                    "063360d3ad6461c9c4735ae7f8edd46592a5e0f01452b2e4b55d00000000df850e09db6afbdfab5169"
                                    "7791506cfc0020455ef34e2043a87db3d4afeb"
                                    "39bbcb6cc32df9347c789a865ecdca129cbef58ca5010203262001215820eb151c8176b225cc651559"
                                    "fecf07af450fd85802046656b34c18f6cf1938"
                                    "43c5225820927b8aa427a2be1b8834d233a2d34f61f13bfd44119c325d5896e183fee484f2",
                                    "4478a10b1352348dd160c1353b0d469b5db19eb91c27f7dfa6fed39fe26af20b",
                                    "7b2274797065223a22776562617574686e2e676574222c226368616c6c656e6765223a225248696843"
                                    "784e534e493352594d45314f7731476d313278"
                                    "6e726b634a5f6666707637546e2d4a71386773222c226f726967696e223a2268747470733a2f2f6578"
                                    "616d706c652e6f7267222c2263726f73734f72"
                                    "6967696e223a66616c73652c22657874726144617461223a22636c69656e74446174614a534f4e206d"
                                    "617920626520657874656e6465642077697468"
                                    "206164646974696f6e616c206669656c647320696e20746865206675747572652c2073756368206173"
                                    "20746869733a206754623533727a3645685357"
                                    "6f6d58477a696d433151227d",
                                    "bfabc37432958b063360d3ad6461c9c4735ae7f8edd46592a5e0f01452b2e4b50900000000",
                                    "304402203310b9431903c401f1be2bdc8d23a4007682dbbddcf846994947b7f465daf84002204e94dd"
                                    "00047b316061b3b99772b7efd95994a83ef584"
                                    "b3b6b825ea3550251b66"};

/// With a certificate as its attestation.
inline const Ceremony packed_ed25519 = {
    "16.11 Packed Attestation with Ed25519 Credential",
    "ce9f840ed96599580cd140fbc7bb3230633f50f61041aff73308ae71caa8a2bd",
    "a8abf9dabdc6b0df63466b39bda9e8a34a34e185337a59f1c579990676d3b3bd",
    "7b2274797065223a22776562617574686e2e637265617465222c226368616c6c656e6765223a22714b763532723347734e396a526d73357661"
    "6e6f6f"
    "306f303459557a656c6e7878586d5a426e6254733730222c226f726967696e223a2268747470733a2f2f6578616d706c652e6f7267222c2263"
    "726f73"
    "734f726967696e223a66616c73652c22657874726144617461223a22636c69656e74446174614a534f4e206d617920626520657874656e6465"
    "642077"
    "697468206164646974696f6e616c206669656c647320696e20746865206675747572652c207375636820617320746869733a20425f44543567"
    "375a44"
    "5f2d394f544c59583549764551227d",
    "a363666d74667061636b65646761747453746d74a363616c67266373696758483046022100d83f60bd80269537583218858aefb03ac57d45fa"
    "06e42f"
    "eaae332d187f62da9f022100a02bd3cb6f7e1d283c93bad1f3f4b5a4c0494463da7fdbf256949116754d1f1763783563815902273082022330"
    "8201c8a003020102021100b2cfc9ea33c8643b0e1a760463eaf164300a06082a8648ce3d0403023062311e301c06035504030c155765624175"
    "74686e"
    "207465737420766563746f7273310c300a060355040a0c0357334331253023060355040b0c1c41757468656e74696361746f72204174746573"
    "746174"
    "696f6e204341310b30090603550406130241413020170d3234303130313030303030305a180f33303234303130313030303030305a305f311e"
    "301c06"
    "035504030c15576562417574686e207465737420766563746f7273310c300a060355040a0c0357334331223020060355040b0c194175746865"
    "6e7469"
    "6361746f72204174746573746174696f6e310b30090603550406130241413059301306072a8648ce3d020106082a8648ce3d03010703420004"
    "dd2b7a"
    "564b73b8c0b81c4c62e521925c4d1198ec9f583dbf1eebe364b65cd9c29a9bdf346aaa81fb6b9507e5249a52fdaf8e39e26b0b7dc45992a7e2"
    "33b70f"
    "70a360305e300c0603551d130101ff04023000300e0603551d0f0101ff040403020780301d0603551d0e041604140ae27546bc7eccb1b4b597"
    "bd354f"
    "0c0b1f1f8f8e301f0603551d2304183016801445aff715b0dd786741fee996ebc16547a3931b1e300a06082a8648ce3d040302034900304602"
    "2100a0"
    "d434ecb5fc3bfd7da5f41904517ad2836249f561bd834ba7a438a8ab7a4ce8022100fac845bb7a02513b58e9f319654dbe49b0f02b95835bac"
    "568c71"
    "f8a18cdde9ab6861757468446174615881bfabc37432958b063360d3ad6461c9c4735ae7f8edd46592a5e0f01452b2e4b54100000000d5aa33"
    "581e8c"
    "a478e20fe713f5d32ff20020ce9f840ed96599580cd140fbc7bb3230633f50f61041aff73308ae71caa8a2bda401010327200621582044e06d"
    "dd331c"
    "36a8dc667bab52bcae63486c916aa5e339e6acebaa84934bf832",
    "895957e01c633a698348a2d8a31a54b7db27e8c1c43b2080d79ae2190267bfd2",
    "7b2274797065223a22776562617574686e2e676574222c226368616c6c656e6765223a2269566c583442786a4f6d6d44534b4c596f78705574"
    "39736e"
    "364d48454f7943413135726947514a6e763949222c226f726967696e223a2268747470733a2f2f6578616d706c652e6f7267222c2263726f73"
    "734f72"
    "6967696e223a66616c73657d",
    "bfabc37432958b063360d3ad6461c9c4735ae7f8edd46592a5e0f01452b2e4b50100000000",
    "f5c59c7e46c34f6f8cc197101ddf9934fa2595f68eb1913a637e8419eb9ba4cfdfc48f85393bc0d40b011f0d6fecb097d6607525713223a0dc"
    "0d4539"
    "93dae00b"};

/// Made in a frame of another site, without and with the name of the page around it; the registrations alone.
inline const Ceremony cross_origin = {"16.4 ES256 Credential with \"crossOrigin\": true in clientDataJSON",
                                      "6e1050c0d2ca2f07c755cb2c66a74c64fa43065c18f938354d9915db2bd5ce57",
                                      "3be5aacd03537142472340ab5969f240f1d87716e20b6807ac230655fa4b3b49",
                                      "7b2274797065223a22776562617574686e2e637265617465222c226368616c6c656e6765223a224f"
                                      "2d57717a514e5463554a484930437257576e7951"
                                      "504859647862694332674872434d475666704c4f306b222c226f726967696e223a2268747470733a"
                                      "2f2f6578616d706c652e6f7267222c2263726f73"
                                      "734f726967696e223a747275652c22657874726144617461223a22636c69656e74446174614a534f"
                                      "4e206d617920626520657874656e646564207769"
                                      "7468206164646974696f6e616c206669656c647320696e20746865206675747572652c2073756368"
                                      "20617320746869733a207a5a7175457444523944"
                                      "577170573574425754467567227d",
                                      "a363666d74646e6f6e656761747453746d74a068617574684461746158a4bfabc37432958b063360"
                                      "d3ad6461c9c4735ae7f8edd46592a5e0f01452b2"
                                      "e4b54500000000883f4f6014f19c09d87aa38123be48d000206e1050c0d2ca2f07c755cb2c66a74c"
                                      "64fa43065c18f938354d9915db2bd5ce57a50102"
                                      "0326200121582022200a473f90b11078851550d03b4e44a2279f8c4eca27b3153dedfe03e4e97d22"
                                      "5820cbd0be95e746ad6f5a8191be11756e4c0420"
                                      "e72f65b466d39bc56b8b123a9c6e",
                                      "",
                                      "",
                                      "",
                                      ""};
inline const Ceremony top_origin = {
    "16.5 ES256 Credential with \"topOrigin\" in clientDataJSON",
    "b8ad59b996047ab18e2ceb57206c362da57458793481f4a8ebf101c7ca7cc0f1",
    "4e1f4c6198699e33c14f192153f49d7e0e8e3577d5ac416c5f3adc92a41f27e5",
    "7b2274797065223a22776562617574686e2e637265617465222c226368616c6c656e6765223a225468394d595a68706e6a504254786b68555f"
    "536466"
    "67364f4e58665672454673587a72636b7151664a2d55222c226f726967696e223a2268747470733a2f2f6578616d706c652e6f7267222c2263"
    "726f73"
    "734f726967696e223a747275652c22746f704f726967696e223a2268747470733a2f2f6578616d706c652e636f6d227d",
    "a363666d74646e6f6e656761747453746d74a068617574684461746158a4bfabc37432958b063360d3ad6461c9c4735ae7f8edd46592a5e0f0"
    "1452b2"
    "e4b5410000000097586fd09799a76401c200455099ef2a0020b8ad59b996047ab18e2ceb57206c362da57458793481f4a8ebf101c7ca7cc0f1"
    "a50102"
    "03262001215820a1c47c1d82da4ebe82cd72207102b380670701993bc35398ae2e5726427fe01d22582086c1080d82987028c7f54ecb1b0118"
    "5de243"
    "b359294a0ed210cd47480f0adc88",
    "",
    "",
    "",
    ""};

inline std::string written(const char* hex) { return access::base64url(from_hex(hex)); }

/// As a browser's toJSON writes a registration.
inline nlohmann::json registration_of(const Ceremony& one) {
  return {{"id", written(one.credential_id)},
          {"rawId", written(one.credential_id)},
          {"type", "public-key"},
          {"response",
           {{"clientDataJSON", written(one.registration_client_data)},
            {"attestationObject", written(one.attestation_object)},
            {"transports", {"internal"}}}},
          {"clientExtensionResults", nlohmann::json::object()}};
}

/// The specification's assertions name no user; a browser adds who registered.
inline nlohmann::json assertion_of(const Ceremony& one, const std::string& account) {
  return {{"id", written(one.credential_id)},
          {"rawId", written(one.credential_id)},
          {"type", "public-key"},
          {"response",
           {{"clientDataJSON", written(one.assertion_client_data)},
            {"authenticatorData", written(one.authenticator_data)},
            {"signature", written(one.signature)},
            {"userHandle", account}}},
          {"clientExtensionResults", nlohmann::json::object()}};
}

}  // namespace cellarer::tests::vectors
